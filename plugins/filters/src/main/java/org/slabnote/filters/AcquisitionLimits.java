package org.slabnote.filters;

import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.ratio;

import org.slabnote.api.Param;
import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Ratio;
import org.slabnote.api.quantity.TimeSpan;

/**
 * Limits beyond which {@link AcquisitionChecks} flags a scan. All defaults are common practice, no
 * source.
 *
 * @param drift spread of the direct wave's time within a pass
 * @param between time of a pass's direct wave from the median of all passes of its channel
 * @param dropouts share of traces that are dead, constant, or copies of their neighbour; three in a
 *     row are flagged whatever the share
 * @param clipping share of samples outside the direct wave that lie on flat tops
 * @param signal least level of the direct wave above the noise
 * @param spectrum how far the spectrum of a pass's direct wave may lie from that of its channel
 * @since 0.1
 */
public record AcquisitionLimits(
    @Param(meaning = "spread of the direct wave's time within a pass", from = "0 ns")
    TimeSpan drift,

    @Param(meaning = "direct wave of a pass from the median of its channel", from = "0 ns")
    TimeSpan between,

    @Param(meaning = "share of dead or copied traces", from = "0", to = "1")
    Ratio dropouts,

    @Param(meaning = "share of clipped samples outside the direct wave", from = "0", to = "1")
    Ratio clipping,

    @Param(meaning = "least level of the direct wave above the noise", from = "0 dB")
    Decibel signal,

    @Param(meaning = "difference of a pass's spectrum from its channel", from = "0", to = "1")
    Ratio spectrum) {

  /**
   * Checks the ranges.
   *
   * @throws IllegalArgumentException if a limit is negative
   */
  public AcquisitionLimits {
    if (drift.value() < 0
        || between.value() < 0
        || dropouts.value() < 0
        || clipping.value() < 0
        || signal.value() < 0
        || spectrum.value() < 0) {
      throw new IllegalArgumentException(
          "acquisition limits: " + drift + ", " + between + ", " + dropouts + ", " + clipping + ", "
              + signal + ", " + spectrum + "; expected none below zero");
    }
  }

  /** Returns 0.10 ns, 0.05 ns, 1 %, 0.1 %, 30 dB, 3 %. */
  public static AcquisitionLimits usual() {
    return new AcquisitionLimits(
        ns(0.10), ns(0.05), ratio(0.01), ratio(0.001), dB(30), ratio(0.03));
  }
}
