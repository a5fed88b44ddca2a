/**
 * Targets: what the scans show, where it is, how deep, how sure, and how far from a proposed cut.
 *
 * <p>Start at {@link org.slabnote.targets.DetectDiffractions} and {@link
 * org.slabnote.targets.DetectPlanes}, or at {@link org.slabnote.targets.PickTarget} for picks by hand;
 * {@link org.slabnote.targets.LinkEvents} joins events to targets, {@link
 * org.slabnote.targets.EventLedger} says what became of each, {@link org.slabnote.targets.Sight} what
 * could have been seen, {@link org.slabnote.targets.Clearance} how a cut stands to it all.
 *
 * <p>Places in m in the slab frame, depths in m below the scanned face to the top of a target, times in
 * ns, two-way, from the surface. Reads no files, knows no other plugin. Nothing here permits a cut.
 */
@NullMarked
package org.slabnote.targets;

import org.jspecify.annotations.NullMarked;
