/**
 * What a cell sees and what a plugin implements: values, operations, steps and the notebook.
 *
 * <p>A cell starts at {@link org.slabnote.api.Notebook}. A plugin author starts at {@link
 * org.slabnote.api.Operation} and {@link org.slabnote.api.Filter}, and offers them through {@link
 * org.slabnote.api.Plugin}. All values are immutable; lengths are metres, times nanoseconds
 * two-way, places in the slab frame: facing the scanned face, x to the right, y down the view, z
 * into the slab. Nothing here reads a file or a clock.
 */
@NullMarked
package org.slabnote.api;

import org.jspecify.annotations.NullMarked;
