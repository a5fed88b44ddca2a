package org.slabnote.worker.process;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import org.jspecify.annotations.Nullable;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.Failure;
import org.slabnote.worker.RunRequest;
import org.slabnote.worker.WorkerClient;

/**
 * Runs tapes, each in a process of its own, which is killed when it does not stop in time.
 *
 * <p>Whatever happens in the process, {@link #run} returns: a crash, a full heap and a loop without
 * end are failures in the outcome, with the cell's name.
 *
 * @since 0.1
 */
public final class WorkerProcess implements WorkerClient {
  /** How long a worker may take to stop after it was asked to, before it is killed. */
  private static final long GRACE_MILLIS = 700;

  /** The same where somebody waits for it: who cancels is answered within 200 ms. */
  private static final long CANCEL_MILLIS = 140;

  private static final int KILLED = 128 + 9;

  /** How long a process that was started ahead waits for its run. */
  private static final long IDLE_MILLIS = TimeUnit.MINUTES.toMillis(10);

  private final AtomicReference<@Nullable Child> running = new AtomicReference<>();
  private final Spare spare = new Spare(IDLE_MILLIS);
  private final Path javaHome;
  private volatile boolean closed;

  /** Runs tapes with the Java of this process. */
  public WorkerProcess() {
    this(Path.of(System.getProperty("java.home")));
  }

  /**
   * Runs tapes with a Java.
   *
   * @param javaHome its folder
   */
  public WorkerProcess(Path javaHome) {
    this.javaHome = javaHome;
  }

  /**
   * Starts a process for a run that is to come, and returns at once. It loads what any run needs, and
   * is used by the next {@link #run} with the same class path and memory; one that waits for long is
   * ended.
   */
  @Override
  public void prepare(List<String> classPath, int megabytes, Optional<RunRequest> like) {
    if (!closed && running.get() == null) {
      spare.prepare(launch(classPath, megabytes), like);
    }
  }

  /** Ends the process that waits for a run, if any; it starts none ahead any more. */
  @Override
  public void close() {
    closed = true;
    spare.close();
  }

  private Launch launch(List<String> classPath, int megabytes) {
    return new Launch(javaHome, classPath, megabytes, Main.class);
  }

  @Override
  public RunOutcome run(RunRequest request, RunListener listener) {
    Child child = new Child(request, listener);
    if (!running.compareAndSet(null, child)) {
      throw new IllegalStateException("a run is going on; expected one at a time");
    }
    Launch launch = launch(request.classPath(), request.limits().megabytes());
    try {
      Optional<ChildProcess> waiting = spare.take(launch);
      try (ChildProcess started = waiting.isPresent() ? waiting.get() : ChildProcess.of(launch)) {
        return child.talk(started);
      }
    } catch (IOException e) {
      return RunOutcome.failed(
          new Failure(Failure.Kind.FAULT, "", 0, "", "", "", String.valueOf(e.getMessage())));
    } finally {
      running.set(null);
    }
  }

  @Override
  public void cancel() {
    Child child = running.get();
    if (child != null) {
      child.stop(Failure.Kind.CANCELLED);
    }
  }

  /** One run in its process. */
  private static final class Child {
    private final RunRequest request;
    private final RunListener listener;
    private final LastNews lastNews;
    private @Nullable ChildProcess process;
    private Failure.@Nullable Kind stopped;
    private volatile boolean heard;

    Child(RunRequest request, RunListener listener) {
      this.request = request;
      this.listener = listener;
      lastNews = new LastNews(request);
    }

    RunOutcome talk(ChildProcess started) {
      synchronized (this) {
        process = started;
        if (stopped != null) {
          started.process().destroyForcibly();
        }
      }
      Thread clock = ChildProcess.daemon("worker-clock", () -> watchTime(started.process()));
      try {
        started.pipe().send(new Message.Start(request));
        Optional<RunOutcome> outcome = listen(started.pipe());
        if (outcome.isPresent()) {
          return outcome.get();
        }
      } catch (IOException e) {
        started.tail().add(e.toString()); // broken off: told below with the exit status
      } finally {
        clock.interrupt();
      }
      return RunOutcome.failed(gone(started));
    }

    private Optional<RunOutcome> listen(Pipe from) throws IOException {
      while (true) {
        Optional<Message> message = from.receive();
        if (message.isEmpty()) {
          return Optional.empty();
        }
        heard = true;
        if (message.get() instanceof Message.Done done) {
          return Optional.of(done.outcome());
        }
        if (message.get() instanceof Message.News news) {
          lastNews.hear(news);
          news.tell(listener);
        }
      }
    }

    /** The worker keeps the time itself; this is for one that no longer can. */
    private void watchTime(Process started) {
      try {
        if (!started.waitFor(request.limits().seconds() + 2L, TimeUnit.SECONDS)) {
          stop(Failure.Kind.TIME);
        }
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt(); // the run is over
      }
    }

    /** Asks the worker to stop, and kills it if it does not. */
    void stop(Failure.Kind why) {
      ChildProcess now;
      synchronized (this) {
        if (stopped != null) {
          return;
        }
        stopped = why;
        now = process;
      }
      if (now == null) {
        return; // killed as soon as it is there
      }
      if (!heard) {
        now.process().destroyForcibly(); // it has nothing yet that could be lost
        return;
      }
      ChildProcess.daemon("worker-cancel", () -> {
        try {
          now.pipe().send(new Message.Cancel());
        } catch (IOException e) {
          now.tail().add(e.toString());
        }
      });
      ChildProcess.daemon("worker-kill", () -> {
        try {
          long grace = why == Failure.Kind.CANCELLED ? CANCEL_MILLIS : GRACE_MILLIS;
          if (!now.process().waitFor(grace, TimeUnit.MILLISECONDS)) {
            now.process().destroyForcibly();
          }
        } catch (InterruptedException e) {
          now.process().destroyForcibly();
          Thread.currentThread().interrupt();
        }
      });
    }

    /** Words for a process that ended without an outcome. */
    private Failure gone(ChildProcess gone) {
      Process started = gone.process();
      int status;
      try {
        if (!started.waitFor(GRACE_MILLIS, TimeUnit.MILLISECONDS)) {
          started.destroyForcibly();
        }
        status = started.waitFor();
      } catch (InterruptedException e) {
        started.destroyForcibly();
        Thread.currentThread().interrupt();
        status = -1;
      }
      Failure.Kind why;
      synchronized (this) {
        why = stopped;
      }
      if (why == Failure.Kind.CANCELLED) {
        return lastNews.failure(why, "cancelled");
      }
      if (why == Failure.Kind.TIME) {
        return lastNews.failure(
            why,
            "this has not ended after " + request.limits().seconds()
                + " s, the limit of the run. Make it do less, or set a higher limit");
      }
      if (status == Main.MEMORY || gone.tail().text().contains("OutOfMemoryError")) {
        return lastNews.failure(
            Failure.Kind.MEMORY,
            "the memory of the worker, " + request.limits().megabytes()
                + " MB, is full. Compute less at once, or give the run more");
      }
      return lastNews.failure(
          Failure.Kind.DIED,
          howItEnded(status, gone)
              + ". Nothing but time is lost: run again, and leave out what is named here if it happens again");
    }

    private static String howItEnded(int status, ChildProcess gone) {
      Optional<String> crash = gone.crash();
      if (crash.isPresent()) {
        return "the worker process crashed"
            + (crash.get().isEmpty() ? "" : " (" + crash.get() + ")")
            + ", perhaps in native code of a plugin";
      }
      String said = gone.tail().text();
      return "the worker process ended by itself (exit status " + status + ")"
          + (status == KILLED ? ", perhaps ended by the system for want of memory" : "")
          + (said.isBlank() ? "" : ", saying: " + said);
    }
  }
}
