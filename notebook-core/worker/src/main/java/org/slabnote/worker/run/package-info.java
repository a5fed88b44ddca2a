/**
 * Replays the tape, builds the graph of steps, computes what is demanded.
 *
 * <p>Start at {@link org.slabnote.worker.run.InProcessWorker}; then {@code Replay} (the cells),
 * {@code Graph} (steps and their addresses), {@code Scheduler} (who computes when). The graph is
 * built by one thread; operations are computed by a fixed number of threads, and nothing that they
 * compute depends on how many there are.
 */
@NullMarked
package org.slabnote.worker.run;

import org.jspecify.annotations.NullMarked;
