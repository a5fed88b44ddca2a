/**
 * What can be wrong with a job, told to a person and to a program.
 *
 * <p>Start at {@link Problem}. {@link BadInput} carries the problems of a job that somebody can put
 * right; {@link Fault} is a fault of ours. Command lines tell the two apart by their exit status.
 */
@NullMarked
package org.slabnote.engine.problem;

import org.jspecify.annotations.NullMarked;
