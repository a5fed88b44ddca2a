/**
 * The worker as a process of its own, with limits of memory and time that hold.
 *
 * <p>Start at {@link org.slabnote.worker.process.WorkerProcess}. The host starts a Java of its own
 * kind with {@code Main}; they talk by frames (a length, then a canonical encoding) over the
 * child's standard input and output, which nothing else in the child can reach. A child makes one
 * run and ends; it ends at once when its host does.
 */
@NullMarked
package org.slabnote.worker.process;

import org.jspecify.annotations.NullMarked;
