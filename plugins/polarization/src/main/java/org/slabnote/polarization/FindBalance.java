package org.slabnote.polarization;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Balance;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Orientation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Role;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.api.quantity.Units;
import org.slabnote.api.quantity.Velocity;
import org.slabnote.methods.fit.RobustFigures;
import org.slabnote.methods.path.TravelTime;
import org.slabnote.methods.signal.AnalyticSignal;
import org.slabnote.methods.wave.PairTheory;

/**
 * Finds how the along antenna compares with the across antenna.
 *
 * <p>First the balance that the survey states. Else the base of the slab: an echo that stands at
 * one time on the median trace of both antennas, on at least three passes and two thirds of them,
 * five times above its surroundings. A bar takes from one orientation more than from the other: one
 * that runs beneath the pass up to 6 dB of the along antenna. So each antenna's height is taken where
 * its base is strongest: upper quartile along a pass, then the 0.9 quantile of the passes. Their
 * level less what theory gives for a plane at that depth and separation is the balance. Else nothing:
 * the pair ratio then carries the doubt of an unbalanced pair. Never the direct wave, whose
 * orientations differ by nature.
 *
 * <p>Uncertainty by source: 1 dB, and a quarter of the difference to what the typical pass says (the
 * mat's doing).
 *
 * <p>Source: trade practice, no source; theory of the plane: {@link PairTheory#ofPlane}. Check:
 * FindBalanceTest.
 *
 * @param across scans across with their surface time, before background removal
 * @param along scans along, treated alike
 * @param velocity velocity of the slab
 * @since 0.1
 */
@Op(id = "polarization.find-balance", revision = 1, purpose = Purpose.POLARIZATION)
public record FindBalance(
    @Role(Orientation.ACROSS) Steps<Scan> across,
    @Role(Orientation.ALONG) Steps<Scan> along,
    Step<VelocityEstimate> velocity)
    implements Operation<Optional<Balance>> {

  private static final double CLEAR = 5;
  private static final int LEAST_PASSES = 3;
  private static final double MAT_DB = 1;
  private static final double MAT_SHARE = 0.25;
  private static final double CLEAR_PASSES = 0.9;
  private static final double AFTER_DIRECT = 3; // periods

  @Override
  public Optional<Balance> apply(Work work) {
    for (Steps<Scan> scans : List.of(along, across)) {
      for (Step<Scan> step : scans.list()) {
        if (step.get().balance().isPresent()) {
          return step.get().balance();
        }
      }
    }
    List<ScanPairs.Pair> pairs = ScanPairs.of("polarization.find-balance", across, along);
    Base[] seen = new Base[pairs.size()];
    work.forEach(pairs.size(), i -> seen[i] = base(pairs.get(i), work).orElse(Base.NONE));
    List<Base> bases = new ArrayList<>();
    for (Base b : seen) {
      if (b.time() > 0) {
        bases.add(b);
      }
    }
    work.progress(1);
    return bases.size() < LEAST_PASSES ? Optional.empty() : agreed(bases, pairs, work);
  }

  /** A flat echo: times from the surface, heights of the two antennas' envelopes between bars. */
  private record Base(double time, double delay, double across, double along) {
    static final Base NONE = new Base(0, 0, 0, 0);
  }

  private Optional<Balance> agreed(List<Base> bases, List<ScanPairs.Pair> pairs, Work work) {
    Scan one = pairs.get(0).across();
    double period = one.antenna().centre().period().value();
    double time = RobustFigures.median(bases.stream().mapToDouble(Base::time).toArray());
    List<Base> near =
        bases.stream().filter(b -> Math.abs(b.time() - time) < 0.3 * period).toList();
    if (near.size() < LEAST_PASSES || 3 * near.size() < 2 * pairs.size()) {
      return Optional.empty();
    }
    Velocity v = velocity.get().velocity().value();
    double s = one.antenna().separation().value();
    if (v.value() * time <= s) {
      return Optional.empty();
    }
    double depth = TravelTime.depth(time, s, v.value());
    PairTheory plane =
        PairTheory.ofPlane(v.permittivity(), s, depth, one.antenna().centre().value() / 1000);
    double across90 = upper(near.stream().mapToDouble(Base::across).toArray());
    double along90 = upper(near.stream().mapToDouble(Base::along).toArray());
    double level = Decibel.ofAmplitude(across90 / along90).value() - plane.ratio();
    double typical = Decibel.ofAmplitude(RobustFigures.median(
                    near.stream().mapToDouble(Base::across).toArray())
                / RobustFigures.median(near.stream().mapToDouble(Base::along).toArray()))
            .value()
        - plane.ratio();
    // time of the clear passes: where the along antenna saw the base best
    double[] delays = near.stream()
        .filter(b -> b.along() >= 0.7 * along90)
        .mapToDouble(b -> b.delay() - (plane.acrossTime() - plane.alongTime()))
        .toArray();
    return Optional.of(new Balance(
        Measured.about(new Decibel(level))
            .from(work.source("balance scatter"), MAT_DB)
            .from(work.source("balance mat"), MAT_SHARE * (typical - level))
            .build(),
        Measured.about(new TimeSpan(RobustFigures.median(delays)))
            .from(work.source("delay scatter"), RobustFigures.deviation(delays))
            .from(work.source("delay pick"), 0.05 * period)
            .build(),
        "plane echo at " + Units.fixed(time, 2) + " ns, " + Units.fixed(depth * 1000, 0)
            + " mm deep, on " + near.size() + " of " + pairs.size()
            + " passes, taken where it is strongest; a mat above it may favour one orientation"));
  }

  private static double upper(double[] heights) {
    return RobustFigures.quantile(heights, CLEAR_PASSES);
  }

  private static Optional<Base> base(ScanPairs.Pair pair, Work work) {
    MedianTrace a = MedianTrace.of(pair.across(), work);
    MedianTrace b = MedianTrace.of(pair.along(), work);
    double period = pair.across().antenna().centre().period().value();
    double separation = pair.across().antenna().separation().value();
    double from = separation / 0.075 + AFTER_DIRECT * period;
    Optional<MedianTrace.Flat> first = a.strongest(from, a.end() - period, period, CLEAR);
    if (first.isEmpty()) {
      return Optional.empty();
    }
    double t = first.get().time();
    Optional<MedianTrace.Flat> second =
        b.strongest(t - 0.5 * period, t + 0.5 * period, period, CLEAR);
    return second.map(other -> new Base(
        t,
        t - other.time(),
        between(pair.across(), t, period, work),
        between(pair.along(), other.time(), period, work)));
  }

  /** Height of the base's echo between the bars that the pass crosses: upper quartile of its traces. */
  private static double between(Scan scan, double time, double period, Work work) {
    double start = scan.axis().start().value() - scan.requireSurface().value().value();
    double interval = scan.interval().value();
    int low = (int) Math.ceil((time - 0.3 * period - start) / interval);
    int high = (int) Math.floor((time + 0.3 * period - start) / interval);
    double[] heights = new double[scan.traces()];
    for (int i = 0; i < heights.length; i++) {
      work.checkCancelled();
      AnalyticSignal a = AnalyticSignal.of(scan.trace(i));
      for (int j = Math.max(0, low); j <= Math.min(a.length() - 1, high); j++) {
        heights[i] = Math.max(heights[i], a.envelope(j));
      }
    }
    return RobustFigures.quantile(heights, 0.75);
  }
}
