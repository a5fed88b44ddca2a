/**
 * Models of slabs and the scans they would give, to test an interpretation against a known truth.
 *
 * <p>Start at {@link org.slabnote.forward.SlabModel}; {@link org.slabnote.forward.RayScan} makes a
 * scan of it. Lengths in metres, times in nanoseconds two-way, frequencies inside the package in
 * gigahertz. A model is an idealization: what it leaves out is told at each type.
 */
@NullMarked
package org.slabnote.forward;

import org.jspecify.annotations.NullMarked;
