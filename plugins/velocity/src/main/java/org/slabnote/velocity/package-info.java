/**
 * Velocity of the wave in the slab, found from the scans, from a known depth, or stated.
 *
 * <p>Start at {@link org.slabnote.velocity.FitDiffractions}, which finds clean diffractions and fits
 * them; at {@link org.slabnote.velocity.HyperbolaFit} for picks made by hand; or at {@link
 * org.slabnote.velocity.KnownDepth} where a core was drilled. Several answers are joined by {@link
 * org.slabnote.velocity.CombineVelocities}, which says when they disagree.
 *
 * <p>Velocities in m/ns, depths in m below the surface, times in ns, two-way, from time zero. Reads
 * no files, knows no other plugin.
 */
@NullMarked
package org.slabnote.velocity;

import org.jspecify.annotations.NullMarked;
