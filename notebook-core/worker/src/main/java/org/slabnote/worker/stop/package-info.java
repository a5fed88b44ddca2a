/**
 * What the cells call at every method entry and every jump back, so that a run can be stopped.
 *
 * <p>Start at {@link org.slabnote.worker.stop.StopPoint}. The host puts the calls into the cells'
 * classes once the gate has let them through; nobody writes them.
 */
@NullMarked
package org.slabnote.worker.stop;

import org.jspecify.annotations.NullMarked;
