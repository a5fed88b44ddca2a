package org.slabnote.app;

import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import org.slabnote.api.Table;
import org.slabnote.engine.plugin.PluginPins;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.run.CacheFolder;
import org.slabnote.engine.run.JobRunner;
import org.slabnote.engine.run.Outcome;
import org.slabnote.engine.run.Remembered;
import org.slabnote.engine.run.RunListener;
import org.slabnote.engine.run.Standing;

/** What the commands need of the engine, by job folder. */
interface Bench {
  /** Runs a job and writes its record. */
  Outcome run(Path job, RunListener listener) throws BadInput;

  /** How a job's record stands to the job; nothing runs. */
  Standing standing(Path job) throws BadInput;

  /** Runs a job from its scans and compares with its record: the first difference, if any. */
  Optional<String> recheck(Path job, RunListener listener) throws BadInput;

  /** The tables of a job's record, by name in the order of the record. */
  Map<String, Table> tables(Path job) throws BadInput;

  /** What a job's record tells of, with the values behind it. */
  Outcome recorded(Path job, RunListener listener) throws BadInput;

  /** The plugins of third parties that a job pins. */
  PluginPins plugins(Path job);

  /** What is remembered on this machine, of all jobs. */
  default Remembered remembered() {
    return new Remembered(CacheFolder.ofUser());
  }

  /** The engine itself; a run that is interrupted is cancelled, and leaves nothing behind. */
  static Bench ofEngine() {
    return new Bench() {
      @Override
      public Outcome run(Path job, RunListener listener) throws BadInput {
        try (Interruptible runner = new Interruptible(JobRunner.of(job))) {
          return runner.get().run(listener);
        }
      }

      @Override
      public Standing standing(Path job) throws BadInput {
        return JobRunner.of(job).standing();
      }

      @Override
      public Optional<String> recheck(Path job, RunListener listener) throws BadInput {
        try (Interruptible runner = new Interruptible(JobRunner.of(job))) {
          return runner.get().recheck(listener);
        }
      }

      @Override
      public Map<String, Table> tables(Path job) throws BadInput {
        return JobRunner.of(job).record().tables();
      }

      @Override
      public PluginPins plugins(Path job) {
        return JobRunner.of(job).plugins();
      }

      @Override
      public Outcome recorded(Path job, RunListener listener) throws BadInput {
        try (Interruptible runner = new Interruptible(JobRunner.of(job))) {
          return runner.get().recorded(listener);
        }
      }
    };
  }
}
