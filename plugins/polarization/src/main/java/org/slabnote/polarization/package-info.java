/**
 * Comparison of the two antenna orientations: balance, pair ratio, and what a target may be.
 *
 * <p>Start at {@link org.slabnote.polarization.PairRatios}, then {@link
 * org.slabnote.polarization.Classify}; {@link org.slabnote.polarization.FindBalance} says how the
 * two antennas compare. At normal cover the antennas' geometry counts as much as the target: a
 * measured ratio is compared with theory for its cover, separation and frequency only.
 *
 * <p>Levels in dB, times in ns from time zero, phases in degrees with exp(+j w t). Reads no files,
 * knows no other plugin.
 */
@NullMarked
package org.slabnote.polarization;

import org.jspecify.annotations.NullMarked;
