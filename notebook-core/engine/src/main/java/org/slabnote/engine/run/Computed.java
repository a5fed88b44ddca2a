package org.slabnote.engine.run;

import java.util.List;
import java.util.Set;
import java.util.SortedMap;
import org.slabnote.engine.compiler.Anatomy;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.record.Fingerprint;
import org.slabnote.engine.record.RunFacts;
import org.slabnote.worker.RunOutcome;

/**
 * What a computation gave.
 *
 * @param facts what was done and found; large values, scans say, are not among its values
 * @param fingerprints of each demanded step, by address
 * @param anatomy what each statement of the cells does
 * @param outcome all that the worker told
 * @param computed addresses of the steps that were computed, not remembered
 * @param remarks what somebody should know and stopped nothing
 * @param values finds every demanded step's value, large ones too, as long as the store has them
 */
record Computed(
    RunFacts facts,
    SortedMap<String, Fingerprint> fingerprints,
    Values values,
    Anatomy anatomy,
    RunOutcome outcome,
    Set<String> computed,
    List<Problem> remarks) {}
