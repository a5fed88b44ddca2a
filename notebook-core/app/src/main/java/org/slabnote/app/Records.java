package org.slabnote.app;

import java.nio.file.Files;
import java.nio.file.Path;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.record.RecordReader;

/** Tells a job that has no record, which is wrong use, from one whose record says no. */
final class Records {
  private Records() {}

  /**
   * Checks that a job folder is there and holds a record.
   *
   * @throws BadInput if not
   */
  static void requireOne(Path job) throws BadInput {
    if (!Files.isDirectory(job)) {
      throw new BadInput(Problem.inFile(
          job.toString(),
          0,
          "there is no such folder; expected a job folder. Make one with: slabnote new JOB "
              + "--survey FILE"));
    }
    RecordReader.requireWhole(job);
    for (String name : new String[] {Job.RECORD, Job.DIGESTS}) {
      if (!Files.exists(job.resolve(name))) {
        throw new BadInput(Problem.inFile(
            job.resolve(name).toString(),
            0,
            "there is no such file; expected the record of a run. Run the job first: slabnote "
                + "run " + job));
      }
    }
  }
}
