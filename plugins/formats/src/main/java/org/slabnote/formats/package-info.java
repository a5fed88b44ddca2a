/**
 * Readers of scan files, which the engine finds through {@link org.slabnote.formats.FormatsPlugin}.
 *
 * <p>Start at {@link org.slabnote.formats.SegyFormat}: a SEG-Y file and its row of the survey table in, a
 * scan out. The survey table states geometry (metres, slab frame) and sample interval (nanoseconds); what
 * the file says about them is checked against it and never used in its place. Knows no other plugin and
 * offers nothing to cells.
 */
@NullMarked
package org.slabnote.formats;

import org.jspecify.annotations.NullMarked;
