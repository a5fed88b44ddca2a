package org.slabnote.demo;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
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
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.slabnote.api.Antenna;
import org.slabnote.api.Point;
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
 * A slab drawn by chance, and its survey; the same one for the same seed.
 *
 * <p>Ranges: permittivity 4.5 to 11, 1.0 to 2.6 GHz, cover 25 to 150 mm, bars of 8 to 25 mm at 100 to
 * 300 mm, one mat or two, with the layer that runs along the passes or without, with a tube of air or
 * without, 0.18 to 0.45 m thick, noise -60 to -42 dB and stones -60 to -46 dB against a metal plane at
 * 100 mm, one pass or six at 100 mm, both orientations or one.
 */
final class HardSlab {
  private static final double LENGTH = 1.2;
  private static final double STEP = 0.0075;
  /** So near an end of the pass a diffraction shows one arm only: it need not be found. */
  private static final double END = 0.06;

  private static final int[] DIAMETERS = {8, 10, 12, 16, 20, 25};

  private final long seed;
  private final SplittableRandom random;
  private final List<Truth> truths = new ArrayList<>();
  private final double permittivity;
  private final double frequency;
  private final int passes;
  private final boolean across;
  private final boolean along;
  private final double deepest;
  private final SlabModel model;
  private final StringBuilder words = new StringBuilder();

  HardSlab(long seed) {
    this.seed = seed;
    this.random = new SplittableRandom(seed);
    permittivity = between(4.5, 11);
    frequency = 100 * Math.rint(between(10, 26));
    passes = random.nextInt(2) == 0 ? 1 : 6;
    int orientations = random.nextInt(4); // both twice as often as either alone
    across = orientations != 3;
    along = orientations != 2;
    double cover = between(0.025, 0.150);
    double diameter = DIAMETERS[random.nextInt(DIAMETERS.length)] / 1000.0;
    double pitch = between(0.10, 0.30);
    boolean secondMat = random.nextInt(2) == 0;
    boolean layerAlong = random.nextInt(2) == 0;
    boolean tube = random.nextInt(5) < 2;
    double conductivity = between(0.003, 0.020);
    double second = cover + between(0.06, 0.12);
    deepest = (secondMat ? second : cover) + 2 * diameter;
    double thickness = Math.max(0.18, deepest + between(0.04, 0.20));
    double noise = Math.rint(between(-60, -42));
    double stones = Math.rint(between(-60, -46));
    SlabModel.Builder builder = SlabModel.of(
        new Concrete(
            ratio(permittivity), ratio(conductivity), ratio(between(0.005, 0.03)), m(thickness)),
        new Instrument(
            MHz(frequency),
            ns(1600 / frequency),
            ns(0.01),
            dB(between(-2, 2)),
            ns(between(-0.03, 0.03)),
            dB(6),
            dB(noise),
            dB(stones)));
    double first = between(0, pitch);
    bars(builder, "a", first, pitch, cover, diameter, true);
    if (secondMat) {
      double shift = random.nextInt(3) == 0 ? 0 : pitch / 2;
      bars(builder, "b", first + shift, pitch, second, diameter, shift > 0);
    }
    if (layerAlong) {
      layer(builder, cover + diameter, diameter, between(0.15, 0.30));
    }
    if (tube) {
      tube(
          builder,
          first + pitch * (1 + random.nextInt(2)) + pitch / 2,
          between(0.03, cover + 0.03));
    }
    truths.add(Truth.plane("base", thickness));
    model = builder.build();
    words.append(String.format(
        Locale.ROOT,
        "eps %.1f, %.1f GHz, cover %.0f mm, %.0f mm bars at %.0f mm%s%s%s, %.0f mm thick, noise %.0f "
            + "dB, stones %.0f dB, %d pass%s, %s",
        permittivity,
        frequency / 1000,
        1e3 * cover,
        1e3 * diameter,
        1e3 * pitch,
        secondMat ? String.format(Locale.ROOT, ", second mat at %.0f mm", 1e3 * second) : "",
        layerAlong ? ", layer along the passes" : "",
        tube ? ", tube" : "",
        1e3 * thickness,
        noise,
        stones,
        passes,
        passes == 1 ? "" : "es",
        across && along ? "both" : across ? "across only" : "along only"));
  }

  private double between(double low, double high) {
    return low + (high - low) * random.nextDouble();
  }

  /** Bars that the passes cross; those straight below others need not be found. */
  private void bars(
      SlabModel.Builder builder,
      String name,
      double first,
      double pitch,
      double depth,
      double diameter,
      boolean inSight) {
    int i = 0;
    for (double x = first; x < LENGTH; x += pitch) {
      String bar = name + ++i;
      builder.metal(bar, m(diameter), Node.of(x, -0.5, depth), Node.of(x, 1.5, depth));
      boolean expected = x > END && x < LENGTH - END && inSight;
      truths.add(new Truth(bar, "bar", new Segment(x, 0, x, 1.0), depth, true, expected));
    }
  }

  /** Bars along the passes: flat bands, if anything; none need be found. */
  private void layer(SlabModel.Builder builder, double depth, double diameter, double pitch) {
    int i = 0;
    for (double y = between(0, pitch); y < 1.0; y += pitch) {
      String bar = "x" + ++i;
      builder.metal(bar, m(diameter), Node.of(-0.5, y, depth), Node.of(1.7, y, depth));
      truths.add(new Truth(bar, "bar", new Segment(0, y, LENGTH, y), depth, true, false));
    }
    truths.add(Truth.plane("layer", depth)); // what it looks like from passes along it
  }

  private void tube(SlabModel.Builder builder, double x, double depth) {
    builder.tube(
        "tube",
        mm(25),
        new Material.Tube(ratio(2.4), ratio(1), mm(20)),
        Node.of(x, -0.5, depth),
        Node.of(x, 1.5, depth));
    truths.add(new Truth("tube", "pipe", new Segment(x, 0, x, 1.0), depth, false, true));
  }

  /** Writes survey table and scans into a new folder. */
  void write(Path folder) throws IOException {
    Files.createDirectory(folder);
    StringBuilder table = new StringBuilder("pass,channel,file,tx_deg,rx_deg,x0_m,y0_m,x1_m,y1_m,"
        + "sample_interval_ns,antenna_offset_m,centre_frequency_mhz\n");
    rows().parallelStream().forEach(row -> scan(folder, row));
    for (SurveyRow row : rows()) {
      int dipole = row.channel().equals("across") ? 90 : 0;
      table.append(String.format(
          Locale.ROOT,
          "%s,%s,%s,%d,%d,%.4f,%.4f,%.4f,%.4f,%.4f,0.06,%.0f\n",
          row.pass(),
          row.channel(),
          row.file(),
          dipole,
          dipole,
          row.start().x().value(),
          row.start().y().value(),
          row.end().x().value(),
          row.end().y().value(),
          row.interval().value(),
          frequency));
    }
    Files.writeString(folder.resolve("survey.csv"), table);
  }

  private void scan(Path folder, SurveyRow row) {
    double window = 2 * (deepest + 0.15) * Math.sqrt(permittivity) / 0.299792458 + 3200 / frequency;
    int samples = (int) Math.ceil(window / row.interval().value());
    int traces = (int) Math.rint(LENGTH / STEP) + 1;
    try {
      Files.write(
          folder.resolve(row.file()),
          SegyFormat.write(
              new RayScan(model, row, traces, samples, seed).apply(Work.serial("hard")),
              List.of("INVENTED DATA", "SEED " + seed)));
    } catch (IOException e) {
      throw new UncheckedIOException(row.file() + " cannot be written", e);
    }
  }

  private List<SurveyRow> rows() {
    List<SurveyRow> rows = new ArrayList<>();
    for (int i = 0; i < passes; i++) {
      for (String channel : List.of("across", "along")) {
        if (channel.equals("across") ? across : along) {
          rows.add(row("E0" + (i + 1), channel, 0.1 * i + 0.25));
        }
      }
    }
    return rows;
  }

  private SurveyRow row(String pass, String channel, double y) {
    int dipole = channel.equals("across") ? 90 : 0;
    // a multiple of 10 ps near a sixteenth of the period
    double interval = Math.max(1, Math.rint(6250 / frequency)) / 100;
    return new SurveyRow(
        pass,
        channel,
        pass + "_" + channel + ".sgy",
        new Antenna(deg(dipole), deg(dipole), mm(60), MHz(frequency)),
        Point.of(0, y),
        Point.of(LENGTH, y),
        ns(interval),
        Optional.empty(),
        Optional.empty(),
        new TreeMap<>());
  }

  /** What is in it, those that need not be found among them. */
  List<Truth> truths() {
    return truths;
  }

  /** Its relative permittivity. */
  double permittivity() {
    return permittivity;
  }

  @Override
  public String toString() {
    return words.toString();
  }
}
