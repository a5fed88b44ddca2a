/**
 * Runs a job: reads it, compiles and gates its cells, has the worker compute, words the record.
 *
 * <p>Start at JobRunner: the command line, the report and the window all go through it. What
 * is wrong with a job comes as {@link org.slabnote.engine.problem.BadInput}, what is wrong with us as
 * {@link org.slabnote.engine.problem.Fault}. Nothing is written into the job but a whole record.
 */
@NullMarked
package org.slabnote.engine.run;

import org.jspecify.annotations.NullMarked;
