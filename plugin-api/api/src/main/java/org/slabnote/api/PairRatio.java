package org.slabnote.api;

import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Measured;

/**
 * Across over along at a target's apex.
 *
 * @param ratio {@code 20 log10(A_across / A_along)}, balanced, with its uncertainty
 * @param phase phase of along minus across at their envelope peaks, -180 to 180 degrees
 * @param balanced whether a balance of the antennas was known; if not, the uncertainty carries the
 *     doubt of an unbalanced pair
 * @param remark what limits it, in words; {@code uninformative} where the classes do not differ
 * @since 0.1
 */
@Trial
public record PairRatio(Measured<Decibel> ratio, Angle phase, boolean balanced, String remark) {}
