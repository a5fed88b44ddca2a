package org.slabnote.polarization;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Antenna;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.PairRatio;
import org.slabnote.api.Param;
import org.slabnote.api.Point;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Units;

/**
 * Says how probably each target is metal, not metal, or a plane, from its pair ratio.
 *
 * <p>Bayes: prior metal 0.75, not metal 0.25 (common practice, no source: most of what a slab holds
 * is steel); likelihood the mean over plausible bars and tubes of a normal density of the measured
 * ratio about the ratio that the cylinder series gives for that cover, separation and permittivity,
 * with the ratio's uncertainty and 1 dB for the theory (uniform host), and of the pair phase with
 * 30 degrees (60 where the antennas are not balanced); 5 % of it flat, so that no single figure
 * decides alone. A target given as a plane stays one. Without a pair ratio the prior is given.
 *
 * <p>Beneath a shallower target a pair ratio tells little, since the bar above turns it round: metal
 * then keeps at least its half. Where the two classes' mean ratios lie within two standard
 * uncertainties the ratio is called uninformative, in words. What else a target could be stands in
 * its alternatives.
 *
 * <p>Source: cylinder series, Balanis 2012, ch. 11. Check: ClassifyTest (full-wave case, series).
 *
 * @param targets findings
 * @param velocity velocity of the slab
 * @param antenna separation and centre frequency of the pair
 * @since 0.1
 */
@Op(id = "polarization.classify", revision = 1, purpose = Purpose.POLARIZATION)
public record Classify(
    Step<Targets> targets,
    Step<VelocityEstimate> velocity,

    @Param(meaning = "the pair of antennas: separation and centre frequency count")
    Antenna antenna)
    implements Operation<Targets> {

  private static final double PRIOR_METAL = 0.75;
  private static final double THEORY_DB = 1;
  private static final double PHASE_DEG = 30;
  private static final double UNBALANCED_PHASE_DEG = 60;
  private static final double FLAT = 0.05;
  private static final double FLAT_DB = 40;
  private static final double SHADOWED_METAL = 0.5;
  private static final double LEAST_COVER = 0.008;
  private static final double MOST_COVER = 1;

  @Override
  public Targets apply(Work work) {
    List<Target> all = targets.get().list();
    TreeMap<Integer, List<Theory.Shown>> grid = theory(all, work);
    List<Target> out = new ArrayList<>();
    for (Target t : all) {
      work.checkCancelled();
      out.add(classified(t, all, grid));
    }
    work.progress(1);
    return new Targets(out);
  }

  private TreeMap<Integer, List<Theory.Shown>> theory(List<Target> all, Work work) {
    TreeMap<Integer, List<Theory.Shown>> grid = new TreeMap<>();
    for (Target t : all) {
      if (t.pairRatio().isPresent() && !plane(t)) {
        int place = (int) Math.floor(Theory.place(cover(t)));
        grid.put(place, List.of());
        grid.put(place + 1, List.of());
      }
    }
    if (grid.isEmpty()) {
      return grid;
    }
    double eps = velocity.get().velocity().value().permittivity();
    Theory theory = new Theory(
        Math.max(1, Math.min(100, eps)),
        antenna.separation().value(),
        antenna.centre().value() / 1000,
        work);
    List<Integer> places = new ArrayList<>(grid.keySet());
    List<List<Theory.Shown>> shown = new ArrayList<>();
    places.forEach(p -> shown.add(List.of()));
    work.forEach(places.size(), i -> shown.set(i, theory.at(places.get(i), work)));
    for (int i = 0; i < places.size(); i++) {
      grid.put(places.get(i), shown.get(i));
    }
    return grid;
  }

  private static boolean plane(Target t) {
    return t.classes().getOrDefault(TargetClass.PLANE, 0.0) > 0.5;
  }

  private static double cover(Target t) {
    double depth = t.depth().value().value();
    double top = t.reference() == Target.Reference.TOP
        ? depth
        : depth - t.diameter().value().value() / 2;
    return Math.max(LEAST_COVER, Math.min(MOST_COVER, top));
  }

  private Target classified(Target t, List<Target> all, TreeMap<Integer, List<Theory.Shown>> grid) {
    if (plane(t)) {
      return t;
    }
    Optional<String> above = above(t, all);
    if (t.pairRatio().isEmpty()) {
      return t.withClasses(
          classes(PRIOR_METAL),
          said(
              t,
              "both orientations did not see it: the class is a prior only (metal "
                  + Units.fixed(PRIOR_METAL, 2) + "); it may be anything that echoes"
                  + beneath(above)));
    }
    double place = Theory.place(cover(t));
    int low = (int) Math.floor(place);
    List<Theory.Shown> shown = Theory.between(
        grid.getOrDefault(low, List.of()), grid.getOrDefault(low + 1, List.of()), place - low);
    PairRatio ratio = t.pairRatio().get();
    double metal = PRIOR_METAL * likelihood(shown, TargetClass.METAL, ratio);
    double other = (1 - PRIOR_METAL) * likelihood(shown, TargetClass.NON_METAL, ratio);
    double p = metal / (metal + other);
    boolean shadowed = above.isPresent();
    return t.withClasses(
        classes(shadowed ? Math.max(SHADOWED_METAL, p) : p),
        said(t, words(shown, ratio, p, above)));
  }

  private static double likelihood(List<Theory.Shown> shown, TargetClass kind, PairRatio ratio) {
    double u = StrictMath.hypot(ratio.ratio().u().value(), THEORY_DB);
    double uPhase = ratio.balanced() ? PHASE_DEG : UNBALANCED_PHASE_DEG;
    double sum = 0;
    for (Theory.Shown s : shown) {
      if (s.kind() == kind) {
        double z = (ratio.ratio().value().value() - s.ratio()) / u;
        double turn = Math.IEEEremainder(ratio.phase().value() - s.phase(), 360) / uPhase;
        double byRatio = StrictMath.exp(-z * z / 2) / (u * Math.sqrt(2 * Math.PI));
        double byPhase = StrictMath.exp(-turn * turn / 2) * 360 / (uPhase * Math.sqrt(2 * Math.PI));
        sum += s.share() * (byRatio * byPhase * (1 - FLAT) + FLAT / FLAT_DB);
      }
    }
    return sum;
  }

  private static SortedMap<TargetClass, Double> classes(double metal) {
    // a fixed number of decimals: the last bits of a series are nobody's business
    double rounded = StrictMath.rint(metal * 1e4) / 1e4;
    TreeMap<TargetClass, Double> map = new TreeMap<>();
    map.put(TargetClass.METAL, rounded);
    map.put(TargetClass.NON_METAL, StrictMath.rint((1 - rounded) * 1e4) / 1e4);
    map.put(TargetClass.PLANE, 0.0);
    return map;
  }

  private static String said(Target t, String words) {
    return t.alternatives().isBlank() ? words : t.alternatives() + "; " + words;
  }

  private static String beneath(Optional<String> above) {
    return above
        .map(a -> "; it lies beneath " + a + ", where steel is never ruled out by a pair ratio")
        .orElse("");
  }

  private static String words(
      List<Theory.Shown> shown, PairRatio ratio, double metal, Optional<String> above) {
    double[] m = range(shown, TargetClass.METAL);
    double[] n = range(shown, TargetClass.NON_METAL);
    double u = ratio.ratio().u().value();
    StringBuilder text = new StringBuilder();
    text.append("pair ratio ").append(signed(ratio.ratio().value().value())).append(" dB (u ");
    text.append(Units.fixed(u, 1)).append("); at this cover metal of 6 to 75 mm gives ");
    text.append(signed(m[0])).append(" to ").append(signed(m[2])).append(" dB, tubes ");
    text.append(signed(n[0])).append(" to ").append(signed(n[2])).append(" dB");
    if (Math.abs(m[1] - n[1]) < 2 * u) {
      text.append(": uninformative here");
    }
    double value = ratio.ratio().value().value();
    double margin = 2 * StrictMath.hypot(u, THEORY_DB);
    if (value < Math.min(m[0], n[0]) - margin || value > Math.max(m[2], n[2]) + margin) {
      text.append("; it fits neither: something else bears on it (a bar above, another echo)");
    }
    if (metal > 0.5) {
      text.append("; else perhaps a water-filled or shallow plastic tube");
    } else {
      text.append("; else perhaps a thick metal pipe or duct, or steel in another's shadow");
    }
    return text.append(beneath(above)).toString();
  }

  private static String signed(double value) {
    String text = Units.fixed(value, 1);
    return value > 0 && !text.equals("0.0") ? "+" + text : text;
  }

  /** Least, mean and greatest ratio of a class. */
  private static double[] range(List<Theory.Shown> shown, TargetClass kind) {
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    double sum = 0;
    for (Theory.Shown s : shown) {
      if (s.kind() == kind) {
        least = Math.min(least, s.ratio());
        most = Math.max(most, s.ratio());
        sum += s.share() * s.ratio();
      }
    }
    return new double[] {least, sum, most};
  }

  /** A shallower target over half or more of this one's length. */
  private static Optional<String> above(Target t, List<Target> all) {
    if (t.pairRatio().isPresent() && t.pairRatio().get().remark().contains("; beneath ")) {
      String remark = t.pairRatio().get().remark();
      String rest = remark.substring(remark.indexOf("; beneath ") + 10);
      return Optional.of(rest.substring(0, rest.indexOf(',')));
    }
    for (Target other : all) {
      int covered = 0;
      int places = 5;
      for (int k = 0; k < places; k++) {
        double share = (k + 0.5) / places;
        Point p = place(t, share);
        covered +=
            !other.name().equals(t.name()) && Overlap.shadows(other, p, Crossing.depth(t, share))
                ? 1
                : 0;
      }
      if (2 * covered > places) {
        return Optional.of(other.name());
      }
    }
    return Optional.empty();
  }

  private static Point place(Target t, double share) {
    Point end = t.end().orElse(t.start());
    double x = t.start().x().value();
    double y = t.start().y().value();
    return Point.of(x + share * (end.x().value() - x), y + share * (end.y().value() - y));
  }
}
