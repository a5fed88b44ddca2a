package org.slabnote.worker.process;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import org.slabnote.api.JobSheet;
import org.slabnote.api.Survey;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunRequest;
import org.slabnote.worker.Tape;
import org.slabnote.worker.run.InProcessWorker;

/** Has a worker that waits load what any run needs: by a run of no cells, which leaves no trace. */
final class WarmUp {
  private static final int SECONDS = 60;

  private WarmUp() {}

  /**
   * Runs nothing.
   *
   * @param folder an own folder, for the store of that run
   */
  static void run(ClassLoader loader, Path folder) {
    RunRequest nothing = new RunRequest(
        new Tape(List.of(), List.of(), List.of()),
        new Survey(List.of()),
        new JobSheet("", "", Optional.empty(), new TreeMap<>(), new TreeMap<>()),
        List.of(),
        new TreeMap<>(),
        List.of(),
        List.of(),
        List.of(),
        folder.resolve("warm").toString(),
        List.of(),
        new RunRequest.Limits(1, 64, SECONDS));
    byte[] request = Canonical.encode(new Message.Start(nothing));
    Message.Start start = (Message.Start) Canonical.decode(request, WarmUp.class.getClassLoader());
    RunOutcome outcome = new InProcessWorker(loader).run(start.request(), RunListener.NONE);
    Canonical.encode(new Message.Done(outcome));
  }
}
