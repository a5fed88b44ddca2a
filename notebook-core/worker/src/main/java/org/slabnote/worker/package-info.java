/**
 * Runs compiled cells in a process of its own: what goes in, what comes out, who listens.
 *
 * <p>Start at {@link org.slabnote.worker.WorkerClient}: it takes a {@link
 * org.slabnote.worker.RunRequest} with the {@link org.slabnote.worker.Tape} and gives a {@link
 * org.slabnote.worker.RunOutcome}. All of these are immutable and cross the pipe between the
 * processes in their canonical encoding. Nothing here runs a cell or opens a file.
 */
@NullMarked
package org.slabnote.worker;

import org.jspecify.annotations.NullMarked;
