/**
 * The notebook's text, cut into prose, cells and csv blocks, each with its exact place.
 *
 * <p>Start at {@link Document#parse}. {@link Edits} changes the text, text in, text out: the text is
 * the only truth, nothing here keeps state. Lines count from 1, offsets are UTF-16 positions in the
 * whole text. Nothing is compiled or run here.
 */
@NullMarked
package org.slabnote.engine.document;

import org.jspecify.annotations.NullMarked;
