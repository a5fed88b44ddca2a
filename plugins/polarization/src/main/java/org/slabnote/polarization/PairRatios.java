package org.slabnote.polarization;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Balance;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Orientation;
import org.slabnote.api.PairRatio;
import org.slabnote.api.Purpose;
import org.slabnote.api.Role;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Units;
import org.slabnote.methods.path.TravelTime;

/**
 * Measures across over along at the apex of every target that both antennas crossed.
 *
 * <p>{@code ratio = 20 log10(A_across / A_along)}, envelopes at their own peaks on the trace of the
 * apex (the arms differ by the antennas' patterns), freed of the median of the pass at each sample
 * and of the power of clutter, less the balance. A target crossed at 55 to 80 degrees is corrected
 * for its strike on complex amplitudes: with C = cos^2, S = sin^2 of the angle, {@code A_par =
 * (A_across S - A_along C) / (S - C)}, {@code A_perp = (A_along S - A_across C) / (S - C)}. Below 55
 * degrees a crossing is not used: near 45 every material shows 0 dB. Crossings beneath a shallower
 * target, and those where one orientation hardly stands above clutter, are used only where there is
 * no other.
 *
 * <p>Uncertainty by source: scatter (clutter of each crossing, 0.5 dB each for place and
 * separation from the background, the Birge ratio where the crossings disagree) and the balance;
 * without one, 1.5 dB for an unbalanced pair (common practice, no source).
 *
 * <p>Planes get no ratio. Refused: scans whose amplitudes were altered, or treated differently.
 * Source: trade practice on two-orientation scans; strike by rotation, Alford 1986. Check: full-wave
 * solver (+4.6 dB); cylinder series.
 *
 * @param across scans across, linear amplitudes, background removed
 * @param along scans along, treated alike
 * @param targets findings
 * @param velocity velocity of the slab
 * @param balance how the antennas compare, where known
 * @since 0.1
 */
@Op(id = "polarization.pair-ratios", revision = 1, purpose = Purpose.POLARIZATION)
public record PairRatios(
    @Role(Orientation.ACROSS) Steps<Scan> across,
    @Role(Orientation.ALONG) Steps<Scan> along,
    Step<Targets> targets,
    Step<VelocityEstimate> velocity,
    Step<Optional<Balance>> balance)
    implements Operation<Targets> {

  private static final double LEAST_SINE = 0.819; // 55 degrees
  private static final double SQUARE_SINE = 0.985; // 80 degrees
  private static final double APEX = 0.025;
  private static final double GATE = 0.7;
  private static final double PLACE_DB = 0.5;
  private static final double UNBALANCED_DB = 1.5;
  private static final double DB = 8.685889638065035; // 20 / ln 10

  @Override
  public Targets apply(Work work) {
    List<ScanPairs.Pair> pairs = ScanPairs.of("polarization.pair-ratios", across, along);
    List<Target> all = targets.get().list();
    Echoes[][] echoes = new Echoes[pairs.size()][];
    work.forEach(
        pairs.size(),
        i -> echoes[i] = new Echoes[] {
          Echoes.isolated(pairs.get(i).across(), work),
          Echoes.isolated(pairs.get(i).along(), work)
        });
    List<Target> rated = new ArrayList<>(all);
    work.forEach(all.size(), i -> rated.set(i, rate(all.get(i), all, pairs, echoes, work)));
    return new Targets(rated);
  }

  private record Measurement(
      String pass,
      double ratio,
      double u,
      double phase,
      double sine,
      String above,
      boolean faint) {}

  private Target rate(
      Target target, List<Target> all, List<ScanPairs.Pair> pairs, Echoes[][] echoes, Work work) {
    if (target.classes().getOrDefault(TargetClass.PLANE, 0.0) > 0.5) {
      return target;
    }
    List<Measurement> clear = new ArrayList<>();
    List<Measurement> beneath = new ArrayList<>();
    for (int i = 0; i < pairs.size(); i++) {
      work.checkCancelled();
      Optional<Measurement> m = measure(target, all, pairs.get(i), echoes[i]);
      m.ifPresent(x -> (x.above().isEmpty() ? clear : beneath).add(x));
    }
    List<Measurement> seen = clear.isEmpty() ? beneath : clear;
    List<Measurement> plain = seen.stream().filter(m -> !m.faint()).toList();
    List<Measurement> used = plain.isEmpty() ? seen : plain;
    return used.isEmpty() ? target : target.withPairRatio(joined(target, used, work));
  }

  private Optional<Measurement> measure(
      Target target, List<Target> all, ScanPairs.Pair pair, Echoes[] echoes) {
    Optional<Crossing> found = Crossing.of(pair.across().track(), target);
    if (found.isEmpty() || found.get().sine() < LEAST_SINE) {
      return Optional.empty();
    }
    Crossing crossing = found.get();
    double top = target.reference() == Target.Reference.TOP
        ? crossing.depth()
        : crossing.depth() - target.diameter().value().value() / 2;
    double s = pair.across().antenna().separation().value();
    double v = velocity.get().velocity().value().value();
    double expected = TravelTime.plane(Math.max(0.001, top), s, v);
    double gate = GATE * pair.across().antenna().centre().period().value();
    double gain = balance.get().map(b -> b.gain().value().amplitude()).orElse(1.0);
    double sine = crossing.sine() > SQUARE_SINE ? 1 : crossing.sine();
    Optional<Comparison> best = apex(pair, echoes, crossing, expected, gate, sine, gain);
    if (best.isEmpty()) {
      return Optional.empty();
    }
    Comparison c = best.get();
    double na = echoes[0].clutter(c.parallelTime(), 2 * gate);
    double nb = echoes[1].clutter(c.perpendicularTime(), 2 * gate) * gain;
    double mixed = sine == 1 ? 1 : 1 / (2 * sine * sine - 1);
    double a = freed(c.parallel(), na * mixed);
    double b = freed(c.perpendicular(), nb * mixed);
    if (c.parallel() < 2 * na && c.perpendicular() < 2 * nb) {
      return Optional.empty();
    }
    double u = DB * StrictMath.hypot(na * mixed / a, nb * mixed / b) / Math.sqrt(2);
    String above = above(target, all, crossing);
    boolean faint = c.perpendicular() < 2 * nb || c.parallel() < 2 * na;
    return Optional.of(new Measurement(
        pair.across().pass(),
        DB * StrictMath.log(a / b),
        StrictMath.hypot(Math.min(u, 10), PLACE_DB),
        c.phase(),
        sine,
        above,
        faint));
  }

  /** The comparison on the trace where the stronger of the two orientations is greatest. */
  private static Optional<Comparison> apex(
      ScanPairs.Pair pair,
      Echoes[] echoes,
      Crossing crossing,
      double expected,
      double gate,
      double sine,
      double gain) {
    Comparison best = null;
    double most = 0;
    double ratio =
        pair.along().track().length().value() / pair.across().track().length().value();
    for (int i = 0; i < echoes[0].distance.length; i++) {
      double off = Math.abs(echoes[0].distance[i] - crossing.distance());
      if (off > APEX) {
        continue;
      }
      int k = echoes[1].trace(echoes[0].distance[i] * ratio);
      Comparison c =
          Comparison.at(echoes[0], i, echoes[1], k, expected - gate, expected + gate, sine, gain);
      // the top of a diffraction is flat: of nearly equal ones the nearest to the target's place
      double worth = Math.max(c.parallel(), c.perpendicular()) * (1 - 0.1 * off / APEX);
      if (c.parallel() > 0 && c.perpendicular() > 0 && worth > most) {
        most = worth;
        best = c;
      }
    }
    return Optional.ofNullable(best);
  }

  /** Amplitude less the power of clutter; half the clutter where nothing is left. */
  private static double freed(double amplitude, double clutter) {
    return Math.sqrt(Math.max(amplitude * amplitude - clutter * clutter, clutter * clutter / 4));
  }

  private static String above(Target target, List<Target> all, Crossing crossing) {
    for (Target other : all) {
      if (!other.name().equals(target.name())
          && Overlap.shadows(other, crossing.place(), crossing.depth())) {
        return other.name();
      }
    }
    return "";
  }

  private PairRatio joined(Target target, List<Measurement> used, Work work) {
    double weights = 0;
    double sum = 0;
    double re = 0;
    double im = 0;
    for (Measurement m : used) {
      double w = 1 / (m.u() * m.u());
      weights += w;
      sum += w * m.ratio();
      re += w * StrictMath.cos(m.phase());
      im += w * StrictMath.sin(m.phase());
    }
    double mean = sum / weights;
    double chi = 0;
    for (Measurement m : used) {
      chi += (m.ratio() - mean) * (m.ratio() - mean) / (m.u() * m.u());
    }
    double birge = used.size() > 1 ? Math.sqrt(chi / (used.size() - 1)) : 1;
    Measured.Builder<Decibel> ratio = Measured.about(new Decibel(mean))
        .from(work.source("scatter at " + target.name()), Math.max(1, birge) / Math.sqrt(weights));
    Optional<Balance> known = balance.get();
    if (known.isPresent()) {
      ratio.from(known.get().gain(), -1);
    } else {
      ratio.from(work.source("antennas not balanced"), UNBALANCED_DB);
    }
    return new PairRatio(
        ratio.build(),
        new Angle(StrictMath.atan2(im, re) * 180 / Math.PI),
        known.isPresent(),
        remark(used, known.isPresent()));
  }

  private static String remark(List<Measurement> used, boolean balanced) {
    StringBuilder text = new StringBuilder();
    text.append(used.size() == 1 ? "pass " : used.size() + " passes: ");
    text.append(String.join(", ", used.stream().map(Measurement::pass).toList()));
    double least = used.stream().mapToDouble(Measurement::sine).min().orElse(1);
    if (least < 1) {
      double deg = StrictMath.asin(least) * 180 / Math.PI;
      text.append("; corrected for a crossing at ").append(Units.fixed(deg, 0)).append(" deg");
    }
    if (!used.get(0).above().isEmpty()) {
      text.append("; beneath ").append(used.get(0).above()).append(", which turns the ratio");
    }
    if (used.stream().anyMatch(Measurement::faint)) {
      text.append("; one orientation hardly stands above clutter: the ratio is a bound");
    }
    if (!balanced) {
      text.append("; antennas not balanced");
    }
    return text.toString();
  }
}
