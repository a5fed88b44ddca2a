package org.slabnote.engine.run;

import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.job.Job;

/**
 * A job that may be computed: its files read, its cells compiled and let through by the gate.
 *
 * @param job the job
 * @param compiled its cells
 * @param limits memory and time of the run
 * @param toolbox the plugins at hand, those of the job among them
 */
record Prepared(Job job, Compiled compiled, Limits limits, Toolbox toolbox) {}
