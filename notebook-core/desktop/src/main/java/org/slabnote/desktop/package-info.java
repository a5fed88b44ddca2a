/**
 * The window: the notebook to the left, what a run of it found to the right.
 *
 * <p>Start at {@link org.slabnote.desktop.DesktopLauncher}. The window holds no truth of its own: the
 * notebook's text goes in and the notebook's text comes out, and what is drawn comes from a run of
 * that text. Opening a job runs nothing. Distances in metres, depths in millimetres, times in
 * nanoseconds after the surface.
 */
@NullMarked
package org.slabnote.desktop;

import org.jspecify.annotations.NullMarked;
