package org.slabnote.desktop;

import java.nio.file.Path;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.run.JobRunner;
import org.slabnote.engine.run.RunListener;
import org.slabnote.engine.trace.OutOfDate;

/** Has the engine do what the window asks. */
record EngineRun(JobRunner runner) implements JobRun {

  /** The runner of a job folder. */
  static EngineRun of(Path job) {
    return new EngineRun(JobRunner.of(job));
  }

  @Override
  public Results before(String notebookText) throws BadInput {
    return Results.before(Job.open(runner.folder(), notebookText));
  }

  @Override
  public List<Problem> check(String notebookText) {
    return runner.check(notebookText);
  }

  @Override
  public Optional<OutOfDate> outOfDate(String notebookText) throws BadInput {
    return runner.outOfDate(notebookText);
  }

  @Override
  public Results compute(String notebookText, Collection<String> more, RunListener listener)
      throws BadInput {
    try {
      return Results.of(runner.compute(notebookText, more, listener));
    } finally {
      runner.makeReady(notebookText);
    }
  }

  @Override
  public Results record(RunListener listener) throws BadInput {
    return Results.of(runner.run(listener));
  }

  @Override
  public void cancel() {
    runner.cancel();
  }
}
