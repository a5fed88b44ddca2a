package org.slabnote.demo;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.ratio;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.slabnote.api.Antenna;
import org.slabnote.api.Point;
import org.slabnote.api.Scan;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.Work;
import org.slabnote.formats.SegyFormat;
import org.slabnote.forward.Concrete;
import org.slabnote.forward.Instrument;
import org.slabnote.forward.Material;
import org.slabnote.forward.Node;
import org.slabnote.forward.RayScan;
import org.slabnote.forward.SlabModel;

/**
 * The suspended slab under the plant room of an invented seaside bath: two mats, an unbonded tendon,
 * a drained heating pipe, a steel conduit, and three proposed cores for pump anchors.
 *
 * <p>1.2 m by 1.2 m and 200 mm thick. Passes every 100 mm in both directions and one more through
 * each core each way, each with the dipoles across and along. Invented throughout.
 *
 * @since 0.1
 */
public final class BathPlantRoom {
  private static final double SIDE = 1.2;
  private static final int TRACES = 241;
  private static final int SAMPLES = 300;
  private static final long SEED = 1907;
  private static final double[] CORES_X = {0.225, 0.525, 0.975};
  private static final double[] CORES_Y = {0.825, 0.525, 0.225};

  private BathPlantRoom() {}

  /**
   * Writes the scans of the job.
   *
   * @param args the job's folder; the scans go to {@code scans} in it
   */
  public static void main(String[] args) throws IOException {
    Path scans = Path.of(args[0]).resolve("scans");
    Files.createDirectories(scans);
    SlabModel slab = slab();
    rows().parallelStream().forEach(row -> write(scans, slab, row));
  }

  private static void write(Path scans, SlabModel slab, SurveyRow row) {
    Scan scan = new RayScan(slab, row, TRACES, SAMPLES, SEED).apply(Work.serial("demo"));
    List<String> text = List.of(
        "INVENTED DATA: PLANT ROOM SLAB OF AN INVENTED SEASIDE BATH",
        "PASS " + row.pass() + " CHANNEL " + row.channel());
    try {
      Files.write(scans.resolve(row.file()), SegyFormat.write(scan, text));
    } catch (IOException e) {
      throw new UncheckedIOException(scans.resolve(row.file()) + " cannot be written", e);
    }
  }

  /** Returns the slab as it is. */
  public static SlabModel slab() {
    Concrete concrete = new Concrete(ratio(7.4), ratio(0.012), ratio(0.03), mm(200));
    Instrument instrument =
        new Instrument(MHz(2000), ns(0.8), ns(0.01), dB(1.2), ns(0.02), dB(6), dB(-46), dB(-48));
    SlabModel.Builder slab = SlabModel.of(concrete, instrument);
    double[] top = {0.15, 0.45, 0.75, 1.05};
    double[] bottom = {0.30, 0.60, 0.90};
    for (int i = 0; i < top.length; i++) {
      slab.metal(
          "top-x-" + (i + 1), mm(10), Node.of(-0.5, top[i], 0.035), Node.of(1.7, top[i], 0.035));
      slab.metal(
          "top-y-" + (i + 1), mm(10), Node.of(top[i], -0.5, 0.046), Node.of(top[i], 1.7, 0.046));
    }
    for (int i = 0; i < bottom.length; i++) {
      slab.metal(
          "bottom-x-" + (i + 1),
          mm(12),
          Node.of(-0.5, bottom[i], 0.160),
          Node.of(1.7, bottom[i], 0.160));
      slab.metal(
          "bottom-y-" + (i + 1),
          mm(12),
          Node.of(bottom[i], -0.5, 0.147),
          Node.of(bottom[i], 1.7, 0.147));
    }
    slab.metal("tendon", mm(15), Node.of(-0.5, 0.480, 0.098), Node.of(1.7, 0.590, 0.098));
    slab.metal("conduit", mm(21), Node.of(0.46, -0.5, 0.066), Node.of(1.16, 1.7, 0.066));
    slab.tube(
        "heating-pipe",
        mm(25),
        new Material.Tube(ratio(2.3), ratio(1), mm(20.4)),
        Node.of(0.375, -0.5, 0.064),
        Node.of(0.375, 1.7, 0.064));
    return slab.build();
  }

  /** Returns the survey: a row per pass and orientation. */
  public static List<SurveyRow> rows() {
    List<SurveyRow> rows = new ArrayList<>();
    int line = 0;
    for (double y : lines(CORES_Y)) {
      String pass = String.format(Locale.ROOT, "E%02d", ++line);
      rows.addAll(both(pass, Point.of(0, y), Point.of(SIDE, y)));
    }
    line = 0;
    for (double x : lines(CORES_X)) {
      String pass = String.format(Locale.ROOT, "S%02d", ++line);
      rows.addAll(both(pass, Point.of(x, 0), Point.of(x, SIDE)));
    }
    return rows;
  }

  private static double[] lines(double[] cores) {
    return java.util.stream.DoubleStream.concat(
            IntStream.range(0, 12).mapToDouble(i -> (5 + 10 * i) / 100.0),
            java.util.Arrays.stream(cores))
        .sorted()
        .toArray();
  }

  private static List<SurveyRow> both(String pass, Point start, Point end) {
    return List.of(row(pass, "across", 90, start, end), row(pass, "along", 0, start, end));
  }

  private static SurveyRow row(String pass, String channel, double dipole, Point start, Point end) {
    Antenna antenna = new Antenna(deg(dipole), deg(dipole), mm(60), MHz(2000));
    return new SurveyRow(
        pass,
        channel,
        pass + "_" + channel + ".sgy",
        antenna,
        start,
        end,
        ns(0.03),
        Optional.empty(),
        Optional.empty(),
        new TreeMap<>());
  }

  /** Returns the survey table as text. */
  public static String surveyTable() {
    StringBuilder out = new StringBuilder("pass,channel,file,tx_deg,rx_deg,x0_m,y0_m,x1_m,y1_m,"
        + "sample_interval_ns,antenna_offset_m,centre_frequency_mhz\n");
    for (SurveyRow r : rows()) {
      String dipole = r.channel().equals("across") ? "90,90" : "0,0";
      out.append(String.format(
          Locale.ROOT,
          "%s,%s,%s,%s,%.3f,%.3f,%.3f,%.3f,0.03,0.060,2000%n".replace("%n", "\n"),
          r.pass(),
          r.channel(),
          r.file(),
          dipole,
          r.start().x().value(),
          r.start().y().value(),
          r.end().x().value(),
          r.end().y().value()));
    }
    return out.toString();
  }
}
