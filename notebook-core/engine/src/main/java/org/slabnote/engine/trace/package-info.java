/**
 * What is out of date, and why: a run's trace is compared with the job as it stands, and nothing runs.
 *
 * <p>Start at {@link org.slabnote.engine.trace.Reach}, which follows a change from what a statement
 * reads to the steps and cells that it reaches; {@link org.slabnote.engine.trace.Why} tells of a run
 * that is over why steps were computed again. Nothing of this enters a record, and no result depends on
 * it: the keys of steps alone decide what is computed.
 */
@NullMarked
package org.slabnote.engine.trace;

import org.jspecify.annotations.NullMarked;
