package org.slabnote.testkit;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.slabnote.api.Antenna;
import org.slabnote.api.Balance;
import org.slabnote.api.Orientation;
import org.slabnote.api.Point;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.quantity.Frequency;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.api.quantity.Velocity;

/**
 * Builds an invented scan: straight rays in a uniform slab, Ricker pulses, seeded noise.
 *
 * <p>The direct wave arrives at {@code t0 + s / c} with amplitude 1, a bar's echo at {@code t0 + L / v}
 * with the amplitude given at its apex, falling as {@code apex path / L}; L is the shortest path from
 * transmitter to the bar's surface to receiver. Enough to try an operation on, no model of a slab:
 * no attenuation, no antenna pattern, no multiples. All amplitudes are invented.
 *
 * @since 0.1
 */
public final class InventedScan {
  private String pass = "E01";
  private String channel = "across";
  private double dipole = 90;
  private Length separation = mm(60);
  private Frequency centre = MHz(2000);
  private Point start = Point.of(0, 0);
  private Point end = Point.of(0.23, 0);
  private int traces = 24;
  private int count = 256;
  private TimeSpan interval = ns(0.02);
  private TimeSpan zero = ns(0.8);
  private Velocity velocity = Velocity.ofPermittivity(7);
  private double direct = 1;
  private boolean surfaceKnown;
  private Optional<Balance> balance = Optional.empty();
  private double noise;
  private long seed = 1;
  private double offset;
  private double drift;
  private final List<Bar> bars = new ArrayList<>();
  private final List<Plane> planes = new ArrayList<>();

  private record Bar(double at, double cover, double radius, double amplitude) {}

  private record Plane(double depth, double amplitude) {}

  private InventedScan() {}

  /** Returns a builder of a scan with a direct wave and nothing else. */
  public static InventedScan bare() {
    return new InventedScan();
  }

  /** Returns a builder of a usual scan: one bar, a base, noise, drift, surface time known. */
  public static InventedScan ordinary() {
    return bare()
        .bar(mm(110), mm(50), mm(16), 0.3)
        .plane(mm(150), 0.1)
        .noise(0.01, 7)
        .drift(0.05)
        .surfaceKnown();
  }

  /** Names pass and channel. */
  public InventedScan named(String passName, String channelLabel) {
    pass = passName;
    channel = channelLabel;
    return this;
  }

  /** Turns the dipoles: ACROSS or ALONG. */
  public InventedScan orientation(Orientation orientation) {
    dipole = orientation == Orientation.ALONG ? 0 : 90;
    return this;
  }

  /** States the antennas. */
  public InventedScan antenna(Length apart, Frequency centreFrequency) {
    separation = apart;
    centre = centreFrequency;
    return this;
  }

  /** Lays the pass from one place to another with so many traces. */
  public InventedScan track(Point from, Point to, int howMany) {
    start = from;
    end = to;
    traces = howMany;
    return this;
  }

  /** States the time axis, from 0 ns. */
  public InventedScan axis(TimeSpan step, int samples) {
    interval = step;
    count = samples;
    return this;
  }

  /** States the true time zero. */
  public InventedScan zero(TimeSpan time) {
    zero = time;
    return this;
  }

  /** States the velocity of the slab. */
  public InventedScan velocity(Velocity v) {
    velocity = v;
    return this;
  }

  /** States the amplitude of the direct wave; 0 leaves it out. */
  public InventedScan direct(double amplitude) {
    direct = amplitude;
    return this;
  }

  /** Lays a bar square under the pass, {@code at} along it, with an amplitude at its apex. */
  public InventedScan bar(Length at, Length cover, Length diameter, double amplitude) {
    bars.add(new Bar(at.value(), cover.value(), diameter.value() / 2, amplitude));
    return this;
  }

  /** Lays a plane at a depth, the base say. */
  public InventedScan plane(Length depth, double amplitude) {
    planes.add(new Plane(depth.value(), amplitude));
    return this;
  }

  /** Adds noise, evenly spread with this standard deviation. */
  public InventedScan noise(double deviation, long noiseSeed) {
    noise = deviation;
    seed = noiseSeed;
    return this;
  }

  /** Adds a constant to each sample. */
  public InventedScan offset(double constant) {
    offset = constant;
    return this;
  }

  /** Adds a slow drift: one half wave over the trace, of this height. */
  public InventedScan drift(double height) {
    drift = height;
    return this;
  }

  /** Makes the scan state its surface time, with a standard uncertainty of 0.02 ns. */
  public InventedScan surfaceKnown() {
    surfaceKnown = true;
    return this;
  }

  /** Makes the scan leave its surface time open. */
  public InventedScan surfaceUnknown() {
    surfaceKnown = false;
    return this;
  }

  /** Makes the scan state the balance of its antennas. */
  public InventedScan balance(Balance stated) {
    balance = Optional.of(stated);
    return this;
  }

  /** Returns the scan. */
  public Scan build() {
    Track track = Track.between(start, end, traces);
    double[] along = track.distances();
    SplittableRandom random = new SplittableRandom(seed);
    float[][] all = new float[traces][count];
    for (int i = 0; i < traces; i++) {
      List<Arrival> arrivals = arrivals(along[i]);
      for (int j = 0; j < count; j++) {
        double white = (random.nextDouble() - 0.5) * Math.sqrt(12) * noise;
        double slow = drift * StrictMath.sin(Math.PI * j / Math.max(1, count - 1));
        all[i][j] = (float) (offset + slow + white + wave(arrivals, j * interval.value()));
      }
    }
    Scan scan = new Scan(
        pass,
        channel,
        new Antenna(deg(dipole), deg(dipole), separation, centre),
        new TimeAxis(ns(0), interval, count),
        track,
        Samples.ofTraces(all),
        Optional.empty(),
        balance,
        List.of());
    return surfaceKnown
        ? scan.withSurface(Measured.of(zero, "invented#time zero", ns(0.02)))
        : scan;
  }

  private record Arrival(double time, double amplitude) {}

  private List<Arrival> arrivals(double x) {
    double s = separation.value();
    double v = velocity.value();
    List<Arrival> list = new ArrayList<>();
    list.add(new Arrival(zero.value() + s / Velocity.LIGHT.value(), direct));
    for (Plane p : planes) {
      double path = 2 * StrictMath.hypot(p.depth, s / 2);
      list.add(new Arrival(zero.value() + path / v, p.amplitude));
    }
    for (Bar b : bars) {
      double apex = 2 * StrictMath.hypot(b.cover, s / 2);
      double path = path(x - b.at, s, b.cover, b.radius);
      list.add(new Arrival(zero.value() + path / v, b.amplitude * apex / path));
    }
    return list;
  }

  private double wave(List<Arrival> arrivals, double t) {
    double sum = 0;
    for (Arrival a : arrivals) {
      sum += a.amplitude * ricker(t - a.time, centre.inGigahertz());
    }
    return sum;
  }

  /**
   * Returns the shortest path over a cylinder square to the pass, m: golden-section search for the
   * point of its upper half, to 1e-9 of a radian's range.
   *
   * @param x antenna midpoint from the axis, m
   * @param s separation, m
   * @param cover depth of its top, m
   * @param radius radius, m; 0 for a wire
   */
  public static double path(double x, double s, double cover, double radius) {
    double low = -Math.PI / 2;
    double high = Math.PI / 2;
    double golden = (Math.sqrt(5) - 1) / 2;
    for (int i = 0; i < 45; i++) {
      double left = high - golden * (high - low);
      double right = low + golden * (high - low);
      if (legs(x, s, cover, radius, left) < legs(x, s, cover, radius, right)) {
        high = right;
      } else {
        low = left;
      }
    }
    return legs(x, s, cover, radius, (low + high) / 2);
  }

  private static double legs(double x, double s, double cover, double radius, double angle) {
    double px = radius * StrictMath.sin(angle);
    double pz = cover + radius - radius * StrictMath.cos(angle);
    return StrictMath.hypot(x - s / 2 - px, pz) + StrictMath.hypot(x + s / 2 - px, pz);
  }

  /** Returns the zero-phase Ricker pulse {@code (1 - 2a) exp(-a), a = (pi f t)^2}, t in ns, f in GHz. */
  public static double ricker(double t, double f) {
    double a = Math.PI * f * t * Math.PI * f * t;
    return (1 - 2 * a) * StrictMath.exp(-a);
  }
}
