package org.slabnote.targets;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Antenna;
import org.slabnote.api.Orientation;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Target;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Velocity;
import org.slabnote.methods.path.TravelTime;
import org.slabnote.methods.signal.Wavelets;

/**
 * An invented slab and its scans: exact ray times, Ricker pulses, spreading, loss, surface-bar
 * multiples, a base, shadows, small scatterers as clutter, noise. Amplitudes are invented; only times
 * are physics.
 */
final class Simulator {
  final double eps;
  final double frequency;
  double separation = 0.06;
  double loss = 2.0; // nepers per metre of path
  double noise = 0.004;
  int scatterers = 60;
  double base = Double.NaN;
  double surfaceError;
  boolean raw;
  long seed = 1;
  final List<Line> lines = new ArrayList<>();

  /** A straight cylinder from (x0, y0) to (x1, y1), tops at z0 and z1, sagging in between. */
  record Line(
      double x0,
      double y0,
      double x1,
      double y1,
      double z0,
      double z1,
      double sag,
      double diameter,
      double strength) {
    double cover(double share) {
      return z0 + (z1 - z0) * share + 4 * sag * share * (1 - share);
    }
  }

  Simulator(double eps, double frequency) {
    this.eps = eps;
    this.frequency = frequency;
  }

  double velocity() {
    return 0.299792458 / Math.sqrt(eps);
  }

  Simulator bar(double x0, double y0, double x1, double y1, double z, double d, double strength) {
    lines.add(new Line(x0, y0, x1, y1, z, z, 0, d, strength));
    return this;
  }

  /** Bars along y (crossed by x-passes) or along x. */
  Simulator mat(
      boolean alongY, double first, double pitch, int n, double z, double d, double strength) {
    for (int i = 0; i < n; i++) {
      double at = first + i * pitch;
      if (alongY) {
        bar(at, -1, at, 3, z, d, strength);
      } else {
        bar(-1, at, 3, at, z, d, strength);
      }
    }
    return this;
  }

  Step<VelocityEstimate> velocityStep(double share) {
    return Step.given(new VelocityEstimate(
        Measured.of(
            new Velocity(velocity() * (1 + share)),
            "velocity#fit",
            new Velocity(0.02 * velocity())),
        "given",
        "test",
        List.of()));
  }

  Scan scan(String pass, Orientation orientation, Point from, Point to, int traces, int samples) {
    double dt = 0.04 / frequency;
    double v = velocity();
    float[][] data = new float[traces][samples];
    Track track = Track.between(from, to, traces);
    double zero = 0.5;
    SplittableRandom random = new SplittableRandom(seed * 1000003 + pass.hashCode());
    List<Line> all = new ArrayList<>(lines);
    List<double[]> points = new ArrayList<>();
    for (int i = 0; i < scatterers; i++) {
      points.add(new double[] {
        random.nextDouble() * (track.length().value() + 0.2) - 0.1,
        0.02 + 0.3 * random.nextDouble(),
        0.12 * (random.nextDouble() - 0.5)
      });
    }
    double dx = to.x().value() - from.x().value();
    double dy = to.y().value() - from.y().value();
    double length = StrictMath.hypot(dx, dy);
    double[] d = track.distances();
    for (Line l : all) {
      double lx = l.x1 - l.x0;
      double ly = l.y1 - l.y0;
      double size = StrictMath.hypot(lx, ly);
      double sine = Math.abs(dx * ly - dy * lx) / (length * size);
      if (sine < 0.2) {
        continue;
      }
      // crossing of the two lines
      double det = dx * ly - dy * lx;
      double along = ((l.x0 - from.x().value()) * ly - (l.y0 - from.y().value()) * lx) / det;
      double share = ((l.x0 - from.x().value()) * dy - (l.y0 - from.y().value()) * dx) / det;
      if (share < 0 || share > 1) {
        continue;
      }
      double cover = l.cover(share);
      double crossing = StrictMath.asin(Math.min(1, sine));
      double weight = orientation == Orientation.ACROSS
          ? sine * sine + 0.6 * (1 - sine * sine)
          : 0.6 * sine * sine + 1 - sine * sine;
      for (int i = 0; i < traces; i++) {
        double x = d[i] - along * length;
        if (Math.abs(x) > 0.7) {
          continue;
        }
        double path = TravelTime.cylinderLength(x, cover, l.diameter / 2, separation, crossing);
        double shadow = 1;
        for (Line other : all) {
          if (!other.equals(l) && other.z0 < cover - 0.01 && parallel(l, other)) {
            double gap = Math.abs((other.x0 - l.x0) * ly - (other.y0 - l.y0) * lx) / size;
            shadow *= gap < 0.02 ? 0.6 : 1;
          }
        }
        add(data[i], zero + path / v, -l.strength * weight * shadow * amplitude(path), dt);
        double twice =
            TravelTime.cylinderLength(x, 2 * cover, l.diameter / 2, separation, crossing);
        if (cover < 0.09) {
          add(data[i], zero + twice / v, 0.25 * l.strength * weight * amplitude(twice), dt);
        }
      }
    }
    for (double[] p : points) {
      for (int i = 0; i < traces; i++) {
        double path = TravelTime.cylinderLength(d[i] - p[0], p[1], 0, separation);
        add(data[i], zero + path / v, p[2] * 0.15 * amplitude(path), dt);
      }
    }
    for (int i = 0; i < traces; i++) {
      add(data[i], zero + separation / 0.299792458, 1, dt);
      if (!Double.isNaN(base)) {
        double path = TravelTime.planeLength(base, separation);
        add(data[i], zero + path / v, 0.6 * amplitude(path), dt);
      }
      for (int j = 0; j < samples; j++) {
        data[i][j] += (float) (noise * gauss(random));
      }
    }
    if (!raw) {
      removeMean(data);
    }
    double angle = orientation == Orientation.ACROSS ? 90 : 0;
    return new Scan(
            pass,
            orientation == Orientation.ACROSS ? "1" : "2",
            new Antenna(deg(angle), deg(angle), m(separation), MHz(frequency * 1000)),
            new TimeAxis(ns(0), ns(dt), samples),
            track,
            Samples.ofTraces(data),
            Optional.empty(),
            Optional.empty(),
            List.of())
        .withSurface(Measured.of(ns(zero + surfaceError), "surface#zero", ns(0.02)));
  }

  private static boolean parallel(Line a, Line b) {
    double ax = a.x1 - a.x0;
    double ay = a.y1 - a.y0;
    double bx = b.x1 - b.x0;
    double by = b.y1 - b.y0;
    return Math.abs(ax * by - ay * bx) < 0.1 * StrictMath.hypot(ax, ay) * StrictMath.hypot(bx, by);
  }

  private double amplitude(double path) {
    return StrictMath.pow(0.1 / path, 1.5) * StrictMath.exp(-loss * path);
  }

  private void add(float[] trace, double t, double amplitude, double dt) {
    double reach = 1.6 / frequency;
    int from = (int) Math.max(0, Math.ceil((t - reach) / dt));
    int to = (int) Math.min(trace.length - 1.0, Math.floor((t + reach) / dt));
    for (int j = from; j <= to; j++) {
      trace[j] += (float) (amplitude * Wavelets.ricker(j * dt - t, frequency));
    }
  }

  private static double gauss(SplittableRandom r) {
    double u = 1 - r.nextDouble();
    return Math.sqrt(-2 * StrictMath.log(u)) * StrictMath.cos(2 * StrictMath.PI * r.nextDouble());
  }

  static float[] mean(float[][] data) {
    float[] out = new float[data[0].length];
    for (int j = 0; j < out.length; j++) {
      double sum = 0;
      for (float[] trace : data) {
        sum += trace[j];
      }
      out[j] = (float) (sum / data.length);
    }
    return out;
  }

  static void removeMean(float[][] data) {
    float[] mean = mean(data);
    for (float[] trace : data) {
      for (int j = 0; j < trace.length; j++) {
        trace[j] -= mean[j];
      }
    }
  }

  /** The line whose plan is within 15 mm and depth within 12 mm at the middle of a target; or null. */
  @Nullable
  Line nearest(Target t) {
    Line best = null;
    double least = 0.012;
    for (Line l : lines) {
      double[] at = middle(t);
      double ux = l.x1 - l.x0;
      double uy = l.y1 - l.y0;
      double size = StrictMath.hypot(ux, uy);
      double off = Math.abs((at[0] - l.x0) * uy - (at[1] - l.y0) * ux) / size;
      double strike = StrictMath.toDegrees(StrictMath.atan2(uy, ux));
      double turn = t.strike()
          .map(a -> Math.abs(((a.value() - strike) % 180 + 270) % 180 - 90))
          .orElse(0.0);
      if (off < 0.015 && turn < 5 && depthError(t, l) < least) {
        least = depthError(t, l);
        best = l;
      }
    }
    return best;
  }

  double depthError(Target t, Line l) {
    double[] at = middle(t);
    double ux = l.x1 - l.x0;
    double uy = l.y1 - l.y0;
    double share = ((at[0] - l.x0) * ux + (at[1] - l.y0) * uy) / (ux * ux + uy * uy);
    return Math.abs(t.depth().value().value() - l.cover(share));
  }

  private static double[] middle(Target t) {
    Point end = t.end().orElse(t.start());
    return new double[] {
      (t.start().x().value() + end.x().value()) / 2,
      (t.start().y().value() + end.y().value()) / 2
    };
  }
}
