package org.slabnote.forward;

import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Frequency;
import org.slabnote.api.quantity.TimeSpan;

/**
 * The antennas and what they add: pulse, coupling, imbalance, noise.
 *
 * @param pulse peak frequency of the Ricker pulse in the source strength
 * @param zero time of the pulse's centre in the recorded window
 * @param drift standard deviation of that time from pass to pass
 * @param imbalance level of the across over the along antenna on a reflector that treats both alike
 * @param lag delay of the across against the along antenna on that reflector
 * @param coupling level of the direct wave of the across antenna over a plane metal reflector at 100
 *     mm depth without loss
 * @param noise standard deviation of the noise, as a level against that same reflector
 * @param clutter level of one scatterer of the aggregate against that same reflector
 * @since 0.1
 */
public record Instrument(
    Frequency pulse,
    TimeSpan zero,
    TimeSpan drift,
    Decibel imbalance,
    TimeSpan lag,
    Decibel coupling,
    Decibel noise,
    Decibel clutter) {}
