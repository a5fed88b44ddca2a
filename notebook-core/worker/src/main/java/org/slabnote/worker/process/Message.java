package org.slabnote.worker.process;

import java.util.List;
import org.slabnote.worker.Planned;
import org.slabnote.worker.PluginDescription;
import org.slabnote.worker.PluginJars;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunListener.CellState;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.Failure;
import org.slabnote.worker.RunRequest;

/** What host and worker process say to each other. */
sealed interface Message {
  /** To the worker: run this. Once. */
  record Start(RunRequest request) implements Message {}

  /** To the worker, before anything else: go through this run to be warm, and tell nothing of it. */
  record Rehearse(RunRequest request) implements Message {}

  /** To the worker: stop. */
  record Cancel() implements Message {}

  /** To a process that describes plugins: what is this one? */
  record Describe(PluginJars plugin) implements Message {}

  /** To the host: this is what the plugin is. */
  record Described(PluginDescription plugin) implements Message {}

  /** To the host: the run is over. */
  record Done(RunOutcome outcome) implements Message {}

  /** To the host: something for the listener. */
  sealed interface News extends Message {
    void tell(RunListener listener);
  }

  /** A cell's state. */
  record OfCell(String cell, CellState state) implements News {
    @Override
    public void tell(RunListener listener) {
      listener.cell(cell, state);
    }
  }

  /** A statement begins, or a step is about to. */
  record At(String address, String cell, int line) implements News {
    @Override
    public void tell(RunListener listener) {
      listener.at(address, cell, line);
    }
  }

  /** Steps are to be computed. */
  record Plan(List<Planned> steps) implements News {
    /** Copies the list. */
    public Plan {
      steps = List.copyOf(steps);
    }

    @Override
    public void tell(RunListener listener) {
      listener.planned(steps);
    }
  }

  /** A step begins. */
  record Started(String address, String operation) implements News {
    @Override
    public void tell(RunListener listener) {
      listener.stepStarted(address, operation);
    }
  }

  /** A step goes on. */
  record Progress(String address, double share) implements News {
    @Override
    public void tell(RunListener listener) {
      listener.stepProgress(address, share);
    }
  }

  /** A step was computed. */
  record Finished(String address, double seconds) implements News {
    @Override
    public void tell(RunListener listener) {
      listener.stepFinished(address, seconds);
    }
  }

  /** A step was remembered. */
  record Remembered(String address) implements News {
    @Override
    public void tell(RunListener listener) {
      listener.stepRemembered(address);
    }
  }

  /** So many steps are there. */
  record Counted(int done, int known) implements News {
    @Override
    public void tell(RunListener listener) {
      listener.steps(done, known);
    }
  }

  /** Something failed. */
  record Failed(Failure failure) implements News {
    @Override
    public void tell(RunListener listener) {
      listener.failed(failure);
    }
  }

  /** One line. */
  record Said(String text) implements News {
    @Override
    public void tell(RunListener listener) {
      listener.message(text);
    }
  }
}
