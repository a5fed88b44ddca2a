package org.slabnote.api;

import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;

/**
 * How the along antenna compares with the across antenna on one reflector that treats both alike
 * (a metal plate, a plane base away from bars). Never found on the direct wave.
 *
 * @param gain level of across over along on that reflector, to be subtracted from a pair ratio
 * @param delay time of across less time of along on that reflector
 * @param evidence how it was found
 * @since 0.1
 */
@Trial
public record Balance(Measured<Decibel> gain, Measured<TimeSpan> delay, String evidence) {}
