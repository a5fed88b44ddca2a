package org.slabnote.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.Point;
import org.slabnote.api.Survey;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.Target;
import org.slabnote.api.Targets;
import org.slabnote.api.Visibility;

/**
 * What the plan of the slab shows, for report and window alike: passes, findings, cuts, and what could
 * not be seen. Lengths in metres in the slab frame, x to the right, y down the view.
 *
 * @param survey the passes
 * @param targets findings
 * @param cuts proposed cuts
 * @param conclusions what was concluded of them
 * @param visibility what could have been seen
 * @since 0.1
 */
public record Plan(
    Survey survey,
    Optional<Targets> targets,
    List<Cut> cuts,
    List<Conclusion> conclusions,
    Optional<Visibility> visibility) {

  /** Copies the lists. */
  public Plan {
    cuts = List.copyOf(cuts);
    conclusions = List.copyOf(conclusions);
  }

  /**
   * A rectangle on plan.
   *
   * @param x0 left
   * @param y0 top
   * @param x1 right
   * @param y1 bottom
   * @since 0.1
   */
  public record Frame(double x0, double y0, double x1, double y1) {
    /** Returns the width, above zero. */
    public double width() {
      return x1 - x0;
    }

    /** Returns the height, above zero. */
    public double height() {
      return y1 - y0;
    }
  }

  /** Returns the rectangle that holds everything, with a margin. */
  public Frame frame() {
    List<Point> all = new ArrayList<>();
    for (SurveyRow row : survey.rows()) {
      all.add(row.start());
      all.add(row.end());
    }
    targets.ifPresent(t -> t.list().forEach(one -> {
      all.add(one.start());
      one.end().ifPresent(all::add);
    }));
    for (Cut cut : cuts) {
      double r = cut.diameter().value() / 2;
      for (Point p : List.of(cut.start(), cut.end())) {
        all.add(Point.of(p.x().value() - r, p.y().value() - r));
        all.add(Point.of(p.x().value() + r, p.y().value() + r));
      }
    }
    double x0 = all.stream().mapToDouble(p -> p.x().value()).min().orElse(0);
    double x1 = all.stream().mapToDouble(p -> p.x().value()).max().orElse(1);
    double y0 = all.stream().mapToDouble(p -> p.y().value()).min().orElse(0);
    double y1 = all.stream().mapToDouble(p -> p.y().value()).max().orElse(1);
    double margin = Math.max(0.05, 0.06 * Math.max(x1 - x0, y1 - y0));
    return new Frame(x0 - margin, y0 - margin, x1 + margin, y1 + margin);
  }

  /** Returns the conclusion of a cut. */
  public Optional<Conclusion> of(Cut cut) {
    return conclusions.stream().filter(c -> c.subject().equals(cut.name())).findFirst();
  }

  /** Returns the findings that can be drawn on plan: all but planes. */
  public List<Target> drawn() {
    return targets
        .map(
            t -> t.list().stream().filter(one -> !Marks.letter(one).equals("P")).toList())
        .orElse(List.of());
  }
}
