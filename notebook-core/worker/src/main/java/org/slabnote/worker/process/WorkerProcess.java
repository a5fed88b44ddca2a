package org.slabnote.worker.process;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Comparator;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.stream.Stream;
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

  private final AtomicReference<@Nullable Child> running = new AtomicReference<>();
  private final Path javaHome;

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

  @Override
  public RunOutcome run(RunRequest request, RunListener listener) {
    Child child = new Child(request, javaHome, listener);
    if (!running.compareAndSet(null, child)) {
      throw new IllegalStateException("a run is going on; expected one at a time");
    }
    try {
      return child.run();
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

  /** One process and its run. */
  private static final class Child {
    private final RunRequest request;
    private final Path javaHome;
    private final RunListener listener;
    private final LastNews lastNews;
    private final Tail tail = new Tail();
    private @Nullable Process process;
    private @Nullable Pipe pipe;
    private Failure.@Nullable Kind stopped;

    Child(RunRequest request, Path javaHome, RunListener listener) {
      this.request = request;
      this.javaHome = javaHome;
      this.listener = listener;
      lastNews = new LastNews(request);
    }

    RunOutcome run() {
      Path folder;
      try {
        folder = Files.createTempDirectory("slabnote");
      } catch (IOException e) {
        return RunOutcome.failed(fault("no temporary folder can be made: " + e));
      }
      try {
        return talk(folder);
      } finally {
        delete(folder);
      }
    }

    private RunOutcome talk(Path folder) {
      Process started;
      Pipe to;
      try {
        started = Launch.start(request, javaHome, folder);
        to = new Pipe(started.getInputStream(), started.getOutputStream());
      } catch (IOException e) {
        return RunOutcome.failed(fault("the worker process cannot be started: " + e.getMessage()));
      }
      synchronized (this) {
        process = started;
        pipe = to;
        if (stopped != null) {
          started.destroyForcibly();
        }
      }
      tail.follow(started.getErrorStream());
      Thread clock = daemon("worker-clock", () -> watchTime(started));
      try {
        to.send(new Message.Start(request));
        Optional<RunOutcome> outcome = listen(to);
        if (outcome.isPresent()) {
          return outcome.get();
        }
      } catch (IOException e) {
        tail.add(e.toString()); // broken off: told below with the exit status
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
      Process now;
      Pipe to;
      synchronized (this) {
        if (stopped != null) {
          return;
        }
        stopped = why;
        now = process;
        to = pipe;
      }
      if (now == null || to == null) {
        return; // killed as soon as it is there
      }
      daemon("worker-cancel", () -> {
        try {
          to.send(new Message.Cancel());
        } catch (IOException e) {
          tail.add(e.toString());
        }
      });
      daemon("worker-kill", () -> {
        try {
          if (!now.waitFor(GRACE_MILLIS, TimeUnit.MILLISECONDS)) {
            now.destroyForcibly();
          }
        } catch (InterruptedException e) {
          now.destroyForcibly();
          Thread.currentThread().interrupt();
        }
      });
    }

    /** Words for a process that ended without an outcome. */
    private Failure gone(Process started) {
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
      if (status == Main.MEMORY || tail.text().contains("OutOfMemoryError")) {
        return lastNews.failure(
            Failure.Kind.MEMORY,
            "the memory of the worker, " + request.limits().megabytes()
                + " MB, is full. Compute less at once, or give the run more");
      }
      String said = tail.text();
      return lastNews.failure(
          Failure.Kind.DIED,
          "the worker process ended by itself (exit status "
              + status + ")" + (said.isBlank() ? "" : ", saying: " + said)
              + ". Nothing but time is lost: run again, and leave out what is named here if it happens again");
    }

    private static Failure fault(String words) {
      return new Failure(Failure.Kind.FAULT, "", 0, "", "", "", words);
    }

    private static void delete(Path folder) {
      try (Stream<Path> all = Files.walk(folder)) {
        for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
          Files.deleteIfExists(path);
        }
      } catch (IOException | UncheckedIOException e) {
        return; // a leftover in the temporary folder harms nobody
      }
    }
  }

  private static Thread daemon(String name, Runnable what) {
    Thread thread = new Thread(what, name);
    thread.setDaemon(true);
    thread.start();
    return thread;
  }

  /** The end of what the process printed. */
  private static final class Tail {
    private static final int MOST = 2000;
    private final StringBuilder text = new StringBuilder();
    private @Nullable Thread follower;

    void follow(InputStream from) {
      follower = daemon("worker-stderr", () -> {
        byte[] buffer = new byte[4096];
        try {
          for (int n = from.read(buffer); n >= 0; n = from.read(buffer)) {
            add(new String(Arrays.copyOf(buffer, n), StandardCharsets.UTF_8));
          }
        } catch (IOException e) {
          add(e.toString());
        }
      });
    }

    synchronized void add(String more) {
      text.append(more);
      if (text.length() > MOST) {
        text.delete(0, text.length() - MOST);
      }
    }

    /** Returns what was printed, once the process is gone, on one line. */
    String text() {
      Thread thread = follower;
      if (thread != null) {
        try {
          thread.join(500);
        } catch (InterruptedException e) {
          Thread.currentThread().interrupt();
        }
      }
      synchronized (this) {
        return text.toString().strip().replaceAll("\\s*\\R\\s*", " / ");
      }
    }
  }
}
