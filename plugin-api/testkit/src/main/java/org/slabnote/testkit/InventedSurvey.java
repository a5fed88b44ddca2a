package org.slabnote.testkit;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.slabnote.api.Orientation;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Survey;
import org.slabnote.api.SurveyRow;

/**
 * Scans of one invented survey, with the survey table that fits them.
 *
 * @param scans scans in the order of the table
 * @since 0.1
 */
public record InventedSurvey(List<Scan> scans) {
  /** Copies the list. */
  public InventedSurvey {
    scans = List.copyOf(scans);
  }

  /** Returns a survey of these scans. */
  public static InventedSurvey of(Scan... scans) {
    return new InventedSurvey(List.of(scans));
  }

  /** Returns the survey table; the files named in it do not exist. */
  public Survey table() {
    List<SurveyRow> rows = new ArrayList<>();
    for (Scan s : scans) {
      rows.add(new SurveyRow(
          s.pass(),
          s.channel(),
          s.pass() + "-" + s.channel() + ".sgy",
          s.antenna(),
          s.track().first(),
          s.track().last(),
          s.interval(),
          s.surface(),
          s.balance(),
          new TreeMap<>()));
    }
    return new Survey(rows);
  }

  /** Returns the scans of an orientation, named by pass, or pass:channel where a pass has several. */
  public Steps<Scan> steps(Orientation orientation) {
    Map<String, Step<Scan>> steps = new LinkedHashMap<>();
    for (Scan s : scans) {
      if (s.orientation() == orientation) {
        boolean several = scans.stream()
                .filter(o -> o.orientation() == orientation && o.pass().equals(s.pass()))
                .count()
            > 1;
        steps.put(several ? s.pass() + ":" + s.channel() : s.pass(), Step.given(s));
      }
    }
    return new TestSteps<>(steps);
  }
}
