package org.slabnote.worker.process;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.slabnote.worker.Job;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.TapeMaker;

/** A front process for tests that kill it. */
final class Host {
  private Host() {}

  /** Does what the first argument says, prints one line, and waits to be killed. */
  public static void main(String[] arguments) throws IOException, InterruptedException {
    switch (arguments[0]) {
      case "folder" -> tell(TemporaryFolder.make().path().toString());
      case "spare" ->
        new WorkerProcess()
            .prepare(
                List.of(System.getProperty("java.class.path").split(":")), 128, Optional.empty());
      default -> endless(new Job(Path.of(arguments[1])).limits(1, 128, 600));
    }
    if (arguments[0].equals("spare")) {
      while (ProcessHandle.current().children().findFirst().isEmpty()) {
        Thread.sleep(5);
      }
      tellChild();
    }
    Thread.sleep(600_000);
  }

  private static void endless(Job job) {
    TapeMaker cells = new TapeMaker().cell("odd", 1).say("while (true) { }");
    new WorkerProcess().run(job.request(cells), new RunListener() {
      @Override
      public void at(String address, String cell, int line) {
        tellChild();
      }
    });
  }

  private static void tellChild() {
    tell(ProcessHandle.current()
        .children()
        .map(p -> String.valueOf(p.pid()))
        .findFirst()
        .orElse("none"));
  }

  private static void tell(String line) {
    System.out.println(line);
    System.out.flush();
  }
}
