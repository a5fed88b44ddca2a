package org.slabnote.api;

import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Decibel;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;

/**
 * Something seen in one scan above clutter, at its apex.
 *
 * @param name name, unique in the job: pass, channel and ordinal
 * @param pass name of the pass
 * @param channel label of the channel
 * @param shape diffraction of a point or line, or a plane
 * @param place apex in the slab frame
 * @param distance apex along the pass from its first trace, with its uncertainty
 * @param time two-way time of the envelope's peak at the apex, from the surface
 * @param depth depth to the top, with its uncertainty
 * @param amplitude envelope at the apex, in the scan's unit, without gain
 * @param signalToNoise level of the envelope above the clutter around it
 * @param semblance coherence along the diffraction curve, 0 to 1
 * @param phase phase of the analytic signal at the envelope's peak
 * @param state explained, rejected or open
 * @param reason why, in words; the finding's name where explained; empty while open
 * @since 0.1
 */
public record Event(
    String name,
    String pass,
    String channel,
    Shape shape,
    Point place,
    Measured<Length> distance,
    Measured<TimeSpan> time,
    Measured<Length> depth,
    double amplitude,
    Decibel signalToNoise,
    double semblance,
    Angle phase,
    EventState state,
    String reason) {

  /**
   * What an event looks like in the radargram.
   *
   * @since 0.1
   */
  public enum Shape {
    /** A diffraction: a hyperbola. */
    DIFFRACTION,
    /** A flat or dipping band. */
    PLANE
  }

  /** Returns this event with another state and its reason. */
  public Event as(EventState newState, String newReason) {
    return new Event(
        name,
        pass,
        channel,
        shape,
        place,
        distance,
        time,
        depth,
        amplitude,
        signalToNoise,
        semblance,
        phase,
        newState,
        newReason);
  }
}
