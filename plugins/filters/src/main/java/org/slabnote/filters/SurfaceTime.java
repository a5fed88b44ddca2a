package org.slabnote.filters;

import org.slabnote.api.Amplitudes;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Orientation;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Treatment;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.api.quantity.Velocity;
import org.slabnote.methods.fit.RobustFigures;

/**
 * Finds the time zero of a pass from its direct wave: the time at which the wave leaves the surface.
 *
 * <p>{@code surface = t_direct - s / c}: t_direct the envelope's peak of the direct wave, s the antenna
 * separation, c the velocity of light. Echoes must be picked at the envelope's peak too: the delay of
 * the pulse within the antenna, and the turn of its phase on the way, are then the same for both and
 * drop out. Following a lobe instead does not (a permittivity of 6 then reads 5.3 to 5.4).
 *
 * <p>The direct wave is sought on the median trace of the pass, which a target under a few traces
 * does not move, freed of slow drift (running mean over four
 * periods) and of noise above five times the centre frequency. It is the first peak of the
 * envelope that has at least half the height of what follows it within one and a half periods, in
 * the first group of at least a quarter of the greatest envelope; refined between samples by a
 * parabola through the logarithms. A scan whose surface time is known already, because the survey
 * states it, gives that one.
 *
 * <p>Uncertainty, by source, with P the period of the centre frequency; all but the spread concern the
 * instrument and are common to the passes of one group of steps, so they do not average out:
 *
 * <ul>
 *   <li>{@code time zero pick}: P / 9, for the picking and for the antennas' height over the face,
 *       which nobody states. The direct wave is no plain wave in air: over half-spaces of permittivity
 *       5 to 11 with antennas up to 10 mm over the face the result is 0.24 P early to 0.3 P late, and
 *       U95 covers 33 cases of 36 (later ones have the next source as well). Antennas higher than
 *       that leave time zero too early.
 *   <li>{@code time zero mixing}: by how much the rise from half height to the peak exceeds 0.45 P.
 *       With the antennas on the face, the wave in the slab joins the wave in air and drags the peak
 *       by about that much. A narrow-banded antenna rises slowly by itself: then it is too cautious.
 *   <li>{@code time zero spread}: robust standard deviation of the peak from trace to trace: each
 *       trace has it.
 *   <li>{@code time zero of this orientation}, for any but across: 0.25 P. The direct wave along the
 *       dipoles is the sum of a wave in air and one in the slab of nearly equal strength, and its
 *       first peak is up to that far off. Prefer the across antenna of the pass.
 * </ul>
 *
 * <p>Refused: scans whose history removed or reshaped the direct wave; traces too short or too coarse
 * to hold it; files that begin after it; passes on which nothing stands out.
 *
 * <p>Check: SurfaceTimeReferenceTest (full-wave solver; Sommerfeld integral over a half-space).
 *
 * @param scan scan of the across antenna, before background removal and gain
 * @since 0.1
 */
@Op(id = "filters.surface-time", revision = 1, purpose = Purpose.FILTER)
public record SurfaceTime(Step<Scan> scan) implements Operation<Measured<TimeSpan>> {

  private static final double PICK_PERIODS = 1.0 / 9;
  private static final double PLAIN_RISE_PERIODS = 0.45;
  private static final double OTHER_ORIENTATION_PERIODS = 0.25;

  @Override
  public Measured<TimeSpan> apply(Work work) {
    Scan input = scan.get();
    if (input.surface().isPresent()) {
      work.progress(1);
      return input.surface().get();
    }
    String where =
        "filters.surface-time: scan " + input.pass() + ", channel " + input.channel() + ": ";
    refuseReshaped(input, where);
    DirectWave wave = DirectWave.of(input, where, work);
    double[] picks = wave.picks(input, work);
    double period = input.antenna().centre().period().value();
    double onItsWay = input.antenna().separation().over(Velocity.LIGHT).value();
    Measured.Builder<TimeSpan> surface = Measured.about(new TimeSpan(wave.time() - onItsWay))
        .from(work.commonSource("time zero pick"), PICK_PERIODS * period)
        .from(
            work.commonSource("time zero mixing"),
            Math.max(0, wave.rise() - PLAIN_RISE_PERIODS) * period)
        .from(work.source("time zero spread"), RobustFigures.deviation(picks));
    if (input.orientation() != Orientation.ACROSS) {
      surface.from(
          work.commonSource("time zero of this orientation"), OTHER_ORIENTATION_PERIODS * period);
    }
    return surface.build();
  }

  private static void refuseReshaped(Scan input, String where) {
    for (Treatment done : input.history()) {
      if (done.amplitudes() == Amplitudes.ALTERED
          || done.amplitudes() == Amplitudes.ACROSS_TRACES) {
        throw new IllegalArgumentException(where + "its direct wave was removed or reshaped by "
            + done + ". Take the surface time from the scan before that step");
      }
    }
  }
}
