package org.slabnote.api;

import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.TimeSpan;

/**
 * A place in a radargram that a person or a method picked: the envelope's peak of an echo.
 *
 * @param pass name of the pass
 * @param distance distance along the pass from its first trace
 * @param time time on the scan's own axis (not yet less the surface time)
 * @since 0.1
 */
public record Pick(String pass, Length distance, TimeSpan time) {}
