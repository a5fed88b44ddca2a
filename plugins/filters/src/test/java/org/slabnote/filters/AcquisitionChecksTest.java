package org.slabnote.filters;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Operations;
import org.slabnote.api.Orientation;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Table;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.testkit.InventedScan;
import org.slabnote.testkit.InventedSurvey;
import org.slabnote.testkit.TestSession;
import org.slabnote.testkit.TestWork;

/** One invented fault at a time, in an invented survey that is otherwise sound. */
class AcquisitionChecksTest {

  /** Pass {@code k} of four, 0.1 m apart, over two bars: not symmetric. */
  private static Scan pass(int k, Orientation orientation) {
    double y = 0.1 * k;
    return InventedScan.bare()
        .named("E0" + k, orientation == Orientation.ACROSS ? "across" : "along")
        .orientation(orientation)
        .track(Point.of(0, y), Point.of(0.6, y), 121)
        .bar(mm(120), mm(50), mm(16), 0.3)
        .bar(mm(260), mm(70), mm(16), 0.3)
        .noise(0.005, 10 * k + orientation.ordinal())
        .build();
  }

  private static List<Scan> survey() {
    List<Scan> scans = new ArrayList<>();
    for (int k = 1; k <= 4; k++) {
      scans.add(pass(k, Orientation.ACROSS));
      scans.add(pass(k, Orientation.ALONG));
    }
    return scans;
  }

  /** Checks the survey with the across scan of pass 2 changed. */
  private static Table checks(UnaryOperator<Scan> change) {
    List<Scan> scans = survey();
    scans.set(2, change.apply(scans.get(2)));
    return checks(scans);
  }

  private static Table checks(List<Scan> scans) {
    InventedSurvey survey = new InventedSurvey(scans);
    return Operations.apply(
        new AcquisitionChecks(survey.steps(Orientation.ACROSS), survey.steps(Orientation.ALONG)),
        TestWork.serial());
  }

  /** Returns {@code pass channel: check} of each flagged row. */
  private static List<String> flagged(Table table) {
    List<String> rows = new ArrayList<>();
    for (int i = 0; i < table.rows(); i++) {
      if (table.column("verdict").text(i).equals("flagged")) {
        rows.add(table.column("pass").text(i) + " " + table.column("channel").text(i) + ": "
            + table.column("check").text(i));
      }
    }
    return rows;
  }

  private static int row(Table table, String pass, String channel, String check) {
    for (int i = 0; i < table.rows(); i++) {
      if (table.column("pass").text(i).equals(pass)
          && table.column("channel").text(i).equals(channel)
          && table.column("check").text(i).equals(check)) {
        return i;
      }
    }
    throw new AssertionError(
        "no row " + pass + " " + channel + " " + check + " in\n" + table.csv());
  }

  private static double value(Table table, String pass, String channel, String check) {
    return ((Table.Numbers) table.column("value")).cells().get(row(table, pass, channel, check));
  }

  private static Scan samples(Scan scan, UnaryOperator<float[]> change) {
    return scan.withSamples(Samples.of(change.apply(scan.samples().toArray())));
  }

  @Test
  void flagsNothingInASoundSurvey() {
    Table table = checks(UnaryOperator.identity());
    assertThat(flagged(table)).as(table.csv()).isEmpty();
    assertThat(table.columns().stream().map(Table.Column::name))
        .containsExactly("pass", "channel", "check", "value", "unit", "limit", "verdict", "remark");
    // 8 scans, 14 checks each, the spectrum between passes for the across antenna only
    assertThat(table.rows()).isEqualTo(8 * 14 - 4);
    assertThat(((Table.Text) table.column("verdict")).cells()).containsOnly("within limit");
  }

  @Test
  void seesTimeZeroDrift() {
    // a straight drift of 0.4 ns over the pass: 5 % to 95 % of it is 0.36 ns
    Table table = checks(scan -> eachShifted(scan, i -> 20.0 * i / (scan.traces() - 1) - 10));
    assertThat(flagged(table)).contains("E02 across: time-zero drift");
    assertThat(value(table, "E02", "across", "time-zero drift"))
        .isCloseTo(0.36, within(0.02)); // whole samples
  }

  @Test
  void seesAPassOfAnotherTimeZero() {
    Table table = checks(scan -> eachShifted(scan, i -> 5));
    assertThat(flagged(table)).contains("E02 across: time zero between passes");
    assertThat(value(table, "E02", "across", "time zero between passes"))
        .isCloseTo(0.1, within(0.01));
  }

  private static Scan eachShifted(Scan scan, java.util.function.IntToDoubleFunction samples) {
    int count = scan.axis().count();
    float[] out = new float[scan.samples().size()];
    for (int i = 0; i < scan.traces(); i++) {
      int shift = (int) Math.rint(samples.applyAsDouble(i));
      for (int j = 0; j < count; j++) {
        out[i * count + j] = scan.sample(i, Math.min(count - 1, Math.max(0, j - shift)));
      }
    }
    return scan.withSamples(Samples.of(out));
  }

  @Test
  void seesDeadTraces() {
    Table table = checks(scan -> samples(scan, all -> {
      Arrays.fill(all, 20 * 256, 24 * 256, 0.25f);
      return all;
    }));
    // constant traces are copies of one another as well
    assertThat(flagged(table))
        .containsExactly("E02 across: dead traces", "E02 across: copied traces");
    assertThat(value(table, "E02", "across", "dead traces")).isCloseTo(4 / 121.0, within(1e-12));
    assertThat(table.column("remark").text(row(table, "E02", "across", "dead traces")))
        .isEqualTo("4 traces, longest run 4 from trace 21");
  }

  @Test
  void seesWeakTraces() {
    // a thirtieth of the amplitude: a dropout, if not a dead trace
    Table table = checks(scan -> samples(scan, all -> {
      for (int j = 60 * 256; j < 62 * 256; j++) {
        all[j] /= 30;
      }
      return all;
    }));
    assertThat(flagged(table)).contains("E02 across: dead traces");
    assertThat(value(table, "E02", "across", "dead traces")).isCloseTo(2 / 121.0, within(1e-12));
  }

  @Test
  void seesCopiedTraces() {
    Table table = checks(scan -> samples(scan, all -> {
      for (int k = 51; k < 54; k++) {
        System.arraycopy(all, 50 * 256, all, k * 256, 256);
      }
      return all;
    }));
    assertThat(flagged(table)).containsExactly("E02 across: copied traces");
  }

  @Test
  void seesClipping() {
    Table table = checks(scan -> samples(scan, all -> {
      for (int j = 0; j < all.length; j++) {
        all[j] = Math.min(0.15f, Math.max(-0.15f, all[j]));
      }
      return all;
    }));
    assertThat(flagged(table))
        .contains("E02 across: clipping", "E02 across: clipping of the direct wave");
    assertThat(value(table, "E02", "across", "clipping of the direct wave")).isEqualTo(1);
  }

  @Test
  void seesNoise() {
    SplittableRandom random = new SplittableRandom(4);
    Table table = checks(scan -> samples(scan, all -> {
      for (int j = 0; j < all.length; j++) {
        all[j] += (float) (0.2 * random.nextDouble());
      }
      return all;
    }));
    assertThat(flagged(table)).contains("E02 across: direct wave over noise");
    // evenly spread over 0.2: its median absolute deviation is 0.05, times 1.4826; envelope peak 1
    assertThat(value(table, "E02", "across", "direct wave over noise"))
        .isCloseTo(20 * Math.log10(1 / 0.0741), within(1.0));
  }

  @Test
  void seesAWrongSampleInterval() {
    Table table = checks(scan -> new Scan(
        scan.pass(),
        scan.channel(),
        scan.antenna(),
        new TimeAxis(ns(0), ns(0.022), scan.axis().count()),
        scan.track(),
        scan.samples(),
        scan.surface(),
        scan.balance(),
        scan.history()));
    assertThat(flagged(table)).contains("E02 across: spectrum between passes");
    assertThat(value(table, "E02", "across", "spectrum between passes"))
        .isCloseTo(1 - 1 / 1.1, within(0.015)); // the window, in periods, stays
  }

  @Test
  void seesAnIntervalThatIsWrongInEveryFile() {
    assertThat(flagged(checks(withInterval(0.2)))).contains("E01 across: samples in a period");
    assertThat(flagged(checks(withInterval(0.008))))
        .contains("E01 across: spectrum against centre frequency");
  }

  private static List<Scan> withInterval(double interval) {
    List<Scan> scans = new ArrayList<>();
    for (Scan scan : survey()) {
      scans.add(new Scan(
          scan.pass(),
          scan.channel(),
          scan.antenna(),
          new TimeAxis(ns(0), ns(interval), scan.axis().count()),
          scan.track(),
          scan.samples(),
          scan.surface(),
          scan.balance(),
          scan.history()));
    }
    return scans;
  }

  @Test
  void seesCoarseAndUnevenTraces() {
    Table table = checks(scan -> {
      double[] x = new double[scan.traces()];
      for (int i = 0; i < x.length; i++) {
        x[i] = 0.005 * i + (i > 60 ? 0.02 : 0);
      }
      double[] y = scan.track().y().toArray();
      return new Scan(
          scan.pass(),
          scan.channel(),
          scan.antenna(),
          scan.axis(),
          new Track(org.slabnote.api.Doubles.of(x), org.slabnote.api.Doubles.of(y)),
          scan.samples(),
          scan.surface(),
          scan.balance(),
          scan.history());
    });
    assertThat(flagged(table)).containsExactly("E02 across: largest step between traces");
    assertThat(value(table, "E02", "across", "largest step between traces"))
        .isCloseTo(0.025, within(1e-9));
  }

  @Test
  void seesAReversedPass() {
    Table table = checks(scan -> samples(scan, all -> {
      float[] out = new float[all.length];
      for (int i = 0; i < scan.traces(); i++) {
        System.arraycopy(all, (scan.traces() - 1 - i) * 256, out, i * 256, 256);
      }
      return out;
    }));
    assertThat(flagged(table))
        .contains("E02 across: direction against neighbours")
        .doesNotContain("E04 across: direction against neighbours");
  }

  @Test
  void readsAPassWalkedTheOtherWayRight() {
    Table table = checks(scan -> {
      Scan turned = samples(scan, all -> {
        float[] out = new float[all.length];
        for (int i = 0; i < scan.traces(); i++) {
          System.arraycopy(all, (scan.traces() - 1 - i) * 256, out, i * 256, 256);
        }
        return out;
      });
      return new Scan(
          scan.pass(),
          scan.channel(),
          scan.antenna(),
          scan.axis(),
          Track.between(scan.track().last(), scan.track().first(), scan.traces()),
          turned.samples(),
          scan.surface(),
          scan.balance(),
          scan.history());
    });
    assertThat(flagged(table)).isEmpty();
  }

  @Test
  void seesAMissingSecondOrientation() {
    List<Scan> scans = survey();
    scans.remove(3);
    assertThat(flagged(checks(scans))).containsExactly("E02 across: second orientation");
    scans.removeIf(s -> s.orientation() == Orientation.ALONG);
    assertThat(flagged(checks(scans))).containsExactly("all across: second orientation");
  }

  @Test
  void saysWhatItCouldNotMeasure() {
    Table table = checks(scan -> samples(scan, all -> new float[all.length]));
    int row = row(table, "E02", "across", "direct wave");
    assertThat(table.column("verdict").text(row)).isEqualTo("not measured");
    assertThat(table.column("remark").text(row)).startsWith("no direct wave stands out");
    assertThat(flagged(table)).contains("E02 across: dead traces");
  }

  @Test
  void checksOneFullWavePassWithoutAlarm() {
    Table table = checks(List.of(FullWave.across(), FullWave.along()));
    assertThat(flagged(table)).as(table.csv()).isEmpty();
  }

  @Test
  void refusesTreatedScans() {
    Scan treated =
        Operations.apply(new Dewow(ns(1)), pass(1, Orientation.ACROSS), TestWork.serial());
    assertThatThrownBy(() -> checks(List.of(treated)))
        .hasMessage(
            "filters.acquisition-checks: scan E01, channel across: treated by filters.dewow window ="
                + " 1 ns; expected the scan as read, since a treatment hides what is looked for");
  }

  @Test
  void runsInACell() {
    TestSession session = TestSession.on(new InventedSurvey(survey()));
    session.run(() -> org.slabnote.api.Notebook.table(
        "acquisition",
        org.slabnote.api.Notebook.run(new AcquisitionChecks(
            org.slabnote.api.Notebook.scans(Orientation.ACROSS),
            org.slabnote.api.Notebook.scans(Orientation.ALONG)))));
    assertThat(session.tables()).containsOnlyKeys("acquisition");
  }
}
