package org.slabnote.worker.process;

import java.io.FileDescriptor;
import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.TimeZone;
import org.slabnote.worker.Planned;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome.Failure;
import org.slabnote.worker.run.InProcessWorker;

/** The worker process: one run, then the end. */
final class Main {
  /** Exit status when the heap was too full to say so. */
  static final int MEMORY = 83;

  /** Exit status when the host is gone. */
  static final int ALONE = 84;

  /** Exit status when the host cannot be understood. */
  static final int CONFUSED = 85;

  private final Pipe pipe;

  private Main(Pipe pipe) {
    this.pipe = pipe;
  }

  /** Runs what the host asks for. No arguments. */
  public static void main(String[] arguments) {
    Locale.setDefault(Locale.ROOT);
    TimeZone.setDefault(TimeZone.getTimeZone("UTC"));
    Pipe pipe =
        new Pipe(new FileInputStream(FileDescriptor.in), new FileOutputStream(FileDescriptor.out));
    // What a library prints must not get between the frames.
    PrintStream elsewhere =
        new PrintStream(new FileOutputStream(FileDescriptor.err), true, StandardCharsets.UTF_8);
    System.setOut(elsewhere);
    System.setErr(elsewhere);
    System.setIn(InputStream.nullInputStream());
    ExitCaller.watch(elsewhere);
    int status = CONFUSED;
    try {
      status = new Main(pipe).work();
    } catch (OutOfMemoryError e) {
      status = MEMORY;
    } catch (IOException e) {
      status = ALONE;
    } finally {
      Runtime.getRuntime().halt(status); // whatever a cell left running ends here
    }
  }

  private int work() throws IOException {
    // Started ahead of its run, a worker makes use of the wait.
    Optional<Thread> warming = pipe.isSilent()
        ? Optional.of(ChildProcess.daemon("warm-up", Main::warmUp))
        : Optional.empty();
    Optional<Message> first = pipe.receive();
    if (warming.isPresent()) {
      join(warming.get());
    }
    if (first.isPresent() && first.get() instanceof Message.Rehearse like) {
      try (Rehearsal rehearsal = new Rehearsal(like.request(), Main.class.getClassLoader())) {
        first = pipe.receive();
      }
    }
    if (first.isEmpty() || !(first.get() instanceof Message.Start start)) {
      return first.isEmpty() ? ALONE : CONFUSED;
    }
    InProcessWorker worker = new InProcessWorker(Main.class.getClassLoader());
    Thread control = new Thread(() -> obey(worker), "control");
    control.setDaemon(true);
    control.start();
    pipe.send(new Message.Done(worker.run(start.request(), new ToHost())));
    return 0;
  }

  private static void warmUp() {
    try {
      WarmUp.run(Main.class.getClassLoader(), Path.of("").toAbsolutePath());
    } catch (RuntimeException | LinkageError e) {
      return; // whatever it is, the run itself meets it again and tells
    }
  }

  private static void join(Thread thread) {
    try {
      thread.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void obey(InProcessWorker worker) {
    try {
      while (true) {
        Optional<Message> message = pipe.receive();
        if (message.isEmpty()) {
          Runtime.getRuntime().halt(ALONE);
        }
        worker.cancel();
      }
    } catch (IOException e) {
      Runtime.getRuntime().halt(ALONE);
    }
  }

  /** Sends news to the host. */
  private final class ToHost implements RunListener {
    private void send(Message message) {
      try {
        pipe.send(message);
      } catch (IOException e) {
        throw new UncheckedIOException("the host is gone", e);
      }
    }

    @Override
    public void cell(String cell, CellState state) {
      send(new Message.OfCell(cell, state));
    }

    @Override
    public void at(String address, String cell, int line) {
      send(new Message.At(address, cell, line));
    }

    @Override
    public void planned(List<Planned> steps) {
      send(new Message.Plan(steps));
    }

    @Override
    public void stepStarted(String address, String operation) {
      send(new Message.Started(address, operation));
    }

    @Override
    public void stepProgress(String address, double share) {
      send(new Message.Progress(address, share));
    }

    @Override
    public void stepFinished(String address, double seconds) {
      send(new Message.Finished(address, seconds));
    }

    @Override
    public void stepRemembered(String address) {
      send(new Message.Remembered(address));
    }

    @Override
    public void steps(int done, int known) {
      send(new Message.Counted(done, known));
    }

    @Override
    public void failed(Failure failure) {
      send(new Message.Failed(failure));
    }

    @Override
    public void message(String text) {
      send(new Message.Said(text));
    }
  }
}
