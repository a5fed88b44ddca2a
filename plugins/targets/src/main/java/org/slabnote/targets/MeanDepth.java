package org.slabnote.targets;

import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Event;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;

/**
 * Budget of a depth that several events give.
 *
 * <p>Their contributions are averaged, source by source, with signs. An event's own pick averages out.
 * What the passes' time zeros have in common does not, though each pass determined its own: the same
 * rule on the same antennas errs the same way; neither does the envelope's delay. Such sources, like
 * in label, count as one (full correlation, JCGM 100:2008, 5.2.2); where only one pass has them they
 * keep their name.
 */
final class MeanDepth {
  private MeanDepth() {}

  /** The budget of {@code depth} m from equally weighted events, and the fit's own uncertainty, m. */
  static Measured<Length> of(double depth, List<Event> events, double fitU, Work work) {
    SortedMap<String, Double> single = new TreeMap<>();
    SortedMap<String, List<String>> shared = new TreeMap<>();
    double n = events.size();
    for (Event e : events) {
      for (var entry : e.depth().budget().entrySet()) {
        String source = entry.getKey();
        single.merge(source, entry.getValue() / n, Double::sum);
        String label = source.substring(source.lastIndexOf('#') + 1);
        if (common(label)) {
          List<String> names = shared.computeIfAbsent(label, l -> new ArrayList<>());
          if (!names.contains(source)) {
            names.add(source);
          }
        }
      }
    }
    shared.forEach((label, names) -> {
      if (names.size() > 1) {
        double sum = 0;
        for (String name : names) {
          sum += single.getOrDefault(name, 0.0);
          single.remove(name);
        }
        single.put(work.source(label + " of all passes"), sum);
      }
    });
    Measured.Builder<Length> builder = Measured.about(new Length(depth));
    single.forEach(builder::from);
    return builder.from(work.source("linking in depth"), fitU).build();
  }

  private static boolean common(String label) {
    return label.equals(DepthBudget.DELAY)
        || (label.startsWith("time zero") && !label.endsWith("spread"));
  }
}
