/**
 * Puts into the cells' classes what a run can be stopped by.
 *
 * <p>Start at {@link org.slabnote.engine.stop.StopPoints}. It comes after the gate, which so sees the
 * classes as the cells made them, and refuses one that names a stop point itself.
 */
@NullMarked
package org.slabnote.engine.stop;

import org.jspecify.annotations.NullMarked;
