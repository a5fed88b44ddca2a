/**
 * Travel times of echoes between a transmitter and a receiver that stand apart.
 *
 * <p>Start at {@link org.slabnote.methods.path.TravelTime}. Lengths in m, times in ns (two-way, from
 * time zero), velocities in m/ns, angles in radians. Nothing here reads a scan.
 */
@NullMarked
package org.slabnote.methods.path;

import org.jspecify.annotations.NullMarked;
