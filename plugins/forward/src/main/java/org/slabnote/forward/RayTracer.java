package org.slabnote.forward;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Antenna;
import org.slabnote.api.Orientation;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.methods.signal.AnalyticSignal;

/** Sums up the response of a slab at each trace of one pass. */
final class RayTracer {
  /** Path at which the spreading factor is one, metres. */
  static final double UNIT_PATH = 0.1;
  /** How much weaker the direct wave of the along pair is, dB (a full-wave run at 60 mm gave 7.5). */
  private static final double ALONG_DIRECT_DB = 7.5;

  private final SlabModel model;
  private final Antenna antenna;
  private final Track track;
  private final Grid grid;
  private final Medium medium;
  private final List<Run> runs = new ArrayList<>();
  private final EchoTables echoes;
  private final Shadows shadows;
  private final Aggregate aggregate;
  private final double reference;
  private final double ux;
  private final double uy;
  /** Direction of the dipoles on plan, a unit vector. */
  private final double dipoleX;

  private final double dipoleY;
  private final double farthest;

  RayTracer(SlabModel model, Antenna antenna, TimeAxis axis, Track track, long seed) {
    this.model = model;
    this.antenna = antenna;
    this.track = track;
    double peak = model.instrument().pulse().inGigahertz();
    grid = new Grid(axis, peak);
    medium = new Medium(model.concrete(), grid.frequencies);
    for (Cylinder c : model.cylinders()) {
      for (int i = 0; i + 1 < c.nodes().size(); i++) {
        runs.add(new Run(c, c.nodes().get(i), c.nodes().get(i + 1)));
      }
    }
    echoes = EchoTables.shared(model.concrete().permittivity().value(), grid);
    shadows = new Shadows(runs, medium, echoes);
    double direction = track.direction().si();
    ux = StrictMath.cos(direction);
    uy = StrictMath.sin(direction);
    boolean across = antenna.orientation() == Orientation.ACROSS;
    dipoleX = across ? -uy : ux;
    dipoleY = across ? ux : uy;
    farthest = axis.end().value() * 0.299792458 / medium.index;
    reference = referenceAmplitude();
    aggregate = new Aggregate(model, medium, grid, seed, antenna.separation().value(), ux, uy);
  }

  /** Envelope peak of a plane metal reflector at 100 mm without loss: what levels are told against. */
  double reference() {
    return reference;
  }

  double[] trace(int i, double zero) {
    double x = track.x().get(i);
    double y = track.y().get(i);
    Spectrum sum = new Spectrum(grid.size());
    for (Run run : runs) {
      addCylinder(sum, run, x, y);
    }
    addBase(sum, x, y);
    aggregate.add(sum, x, y);
    if (antenna.orientation() == Orientation.ALONG) {
      double gain = 1 / model.instrument().imbalance().amplitude();
      for (int k = 0; k < grid.size(); k++) {
        sum.times(k, gain, 0);
      }
    }
    addDirect(sum);
    return grid.trace(sum, zero);
  }

  private void addCylinder(Spectrum sum, Run run, double x, double y) {
    double foot = run.foot(x, y, 0);
    double weight = run.weight(foot);
    double offset = run.offset(x, y);
    double height = run.height(x, y);
    double distance = Math.sqrt(offset * offset + height * height);
    if (weight == 0 || 2 * (distance - run.radius) > farthest || height <= run.radius) {
      return;
    }
    double separation = antenna.separation().value();
    double inPlane = separation * Math.abs(ux * run.nx + uy * run.ny);
    double axial = separation * Math.abs(ux * run.ax + uy * run.ay);
    double along = dipoleX * run.ax + dipoleY * run.ay;
    double square = dipoleX * run.nx + dipoleY * run.ny;
    EchoTables.Echo echo =
        echoes.echo(run.cylinder, height - run.radius, Math.abs(offset), inPlane);
    double path = Math.sqrt(echo.path() * echo.path() + axial * axial);
    double[] leg = legEnd(run, foot, x, y);
    Spectrum shade = shadows.leg(run, x, y, leg, dipoleX, dipoleY);
    double spread = Math.sqrt(UNIT_PATH / path) * weight;
    Spectrum one = new Spectrum(grid.size());
    for (int k = 0; k < grid.size(); k++) {
      double re = along * along * echo.parallelRe(k) + square * square * echo.squareRe(k);
      double im = along * along * echo.parallelIm(k) + square * square * echo.squareIm(k);
      double loss = spread * StrictMath.exp(-medium.alpha[k] * path);
      double phase = -medium.beta[k] * path;
      one.add(k, re * loss, im * loss);
      one.times(k, StrictMath.cos(phase), StrictMath.sin(phase));
    }
    one.times(shade);
    one.times(shade);
    sum.add(one);
    if (run.cylinder.metal()) {
      addMultiple(sum, one, run, height, path, along * along, square * square);
    }
  }

  /** One bounce more between the surface and the cylinder: seen from its own image above the surface. */
  private void addMultiple(
      Spectrum sum,
      Spectrum one,
      Run run,
      double height,
      double path,
      double along2,
      double square2) {
    double surface = (medium.index - 1) / (medium.index + 1);
    double between = 2 * height;
    double further = between - 2 * run.radius;
    if (path + further > farthest) {
      return;
    }
    EchoTables.Pattern pattern = echoes.pattern(run.cylinder);
    double spread = surface * Math.sqrt(path / (path + further));
    double total = along2 + square2;
    for (int k = 0; k < grid.size(); k++) {
      double scale = spread
          * Math.sqrt(2 / (StrictMath.PI * medium.beta[k] * between))
          * StrictMath.exp(-medium.alpha[k] * further);
      double phase = -medium.beta[k] * between + StrictMath.PI / 4;
      double c = StrictMath.cos(phase) * scale;
      double s = StrictMath.sin(phase) * scale;
      double re = (along2 * pattern.backParallelRe(k) + square2 * pattern.backSquareRe(k)) / total;
      double im = (along2 * pattern.backParallelIm(k) + square2 * pattern.backSquareIm(k)) / total;
      double fRe = re * c - im * s;
      double fIm = re * s + im * c;
      sum.add(k, one.re[k] * fRe - one.im[k] * fIm, one.re[k] * fIm + one.im[k] * fRe);
    }
  }

  /** Where the ray from the midpoint meets the cylinder. */
  private static double[] legEnd(Run run, double foot, double x, double y) {
    double cx = run.xAt(foot);
    double cy = run.yAt(foot);
    double cz = run.depthAt(foot);
    double d = Math.sqrt((cx - x) * (cx - x) + (cy - y) * (cy - y) + cz * cz);
    double f = 1 - run.radius / d;
    return new double[] {x + (cx - x) * f, y + (cy - y) * f, cz * f};
  }

  private void addBase(Spectrum sum, double x, double y) {
    double depth = model.concrete().thickness().value();
    double r = (medium.index - 1) / (medium.index + 1);
    Spectrum shade = shadows.leg(null, x, y, new double[] {x, y, depth}, dipoleX, dipoleY);
    addPlane(sum, 2 * depth, r, shade, 2);
    addPlane(sum, 4 * depth, r * r * r, shade, 4);
  }

  private void addPlane(Spectrum sum, double vertical, double factor, Spectrum shade, int legs) {
    double s = antenna.separation().value();
    double path = Math.sqrt(vertical * vertical + s * s);
    if (path > farthest) {
      return; // what comes after the window would wrap round into it
    }
    // the horizontal dipole in the plane loses the cosine of both legs
    double cos = vertical / path;
    double pattern = antenna.orientation() == Orientation.ALONG ? cos * cos : 1;
    Spectrum plane = new Spectrum(grid.size());
    for (int k = 0; k < grid.size(); k++) {
      double amplitude = factor
          * pattern
          * Math.sqrt(UNIT_PATH / path)
          * Math.sqrt(2 / (StrictMath.PI * medium.beta[k] * path))
          * StrictMath.exp(-medium.alpha[k] * path);
      double phase = -medium.beta[k] * path + StrictMath.PI / 4;
      plane.add(k, amplitude * StrictMath.cos(phase), amplitude * StrictMath.sin(phase));
    }
    for (int leg = 0; leg < legs; leg++) {
      plane.times(shade);
    }
    sum.add(plane);
  }

  private void addDirect(Spectrum sum) {
    double s = antenna.separation().value();
    boolean across = antenna.orientation() == Orientation.ACROSS;
    double level = model.instrument().coupling().value() - (across ? 0 : ALONG_DIRECT_DB);
    double delay = s / 0.299792458 * (across ? 1 : medium.index);
    double imbalance = across ? 1 : 1 / model.instrument().imbalance().amplitude();
    double amplitude = StrictMath.pow(10, level / 20) * imbalance;
    for (int k = 0; k < grid.size(); k++) {
      double omega = 2 * StrictMath.PI * grid.frequencies[k];
      double reach = amplitude * plateAmplitude(omega);
      double phase = -omega * delay + StrictMath.PI / 4;
      sum.add(k, reach * StrictMath.cos(phase), reach * StrictMath.sin(phase));
    }
  }

  private double plateAmplitude(double omega) {
    double k = omega * medium.index / 0.299792458;
    return Math.sqrt(UNIT_PATH / 0.2) * Math.sqrt(2 / (StrictMath.PI * k * 0.2));
  }

  private double referenceAmplitude() {
    Spectrum plate = new Spectrum(grid.size());
    for (int k = 0; k < grid.size(); k++) {
      plate.add(k, plateAmplitude(2 * StrictMath.PI * grid.frequencies[k]), 0);
    }
    AnalyticSignal signal =
        AnalyticSignal.of(grid.trace(plate, farthest * medium.index / 0.299792458 / 2));
    double most = 0;
    for (double e : signal.envelope()) {
      most = Math.max(most, e);
    }
    return most;
  }
}
