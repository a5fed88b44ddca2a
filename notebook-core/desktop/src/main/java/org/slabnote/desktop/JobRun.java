package org.slabnote.desktop;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.run.RunListener;
import org.slabnote.engine.trace.OutOfDate;

/** What the window asks of whoever runs jobs. Calls come from one thread, {@link #cancel} from another. */
interface JobRun {
  /**
   * What the job's files say before anything has run: passes and cuts.
   *
   * @throws BadInput if they cannot be read
   */
  Results before(String notebookText) throws BadInput;

  /** What is wrong with the text and the files as they stand. Compiles, runs nothing. */
  List<Problem> check(String notebookText);

  /**
   * What is out of date since the last complete run, the text and the files being as they stand. Runs
   * nothing; empty where no complete run is known.
   *
   * @throws BadInput if the files cannot be read
   */
  Optional<OutOfDate> outOfDate(String notebookText) throws BadInput;

  /**
   * Runs the text, perhaps not saved yet, and writes nothing.
   *
   * @param more addresses of steps to compute beyond what the notebook demands
   */
  Results compute(String notebookText, Collection<String> more, RunListener listener)
      throws BadInput;

  /** Runs the notebook as it is on disk and writes the record. */
  Results record(RunListener listener) throws BadInput;

  /** Stops the run under way. */
  void cancel();
}
