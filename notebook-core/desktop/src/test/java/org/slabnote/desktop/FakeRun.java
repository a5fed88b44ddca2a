package org.slabnote.desktop;

import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicInteger;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.run.Outlook;
import org.slabnote.engine.run.RunCancelled;
import org.slabnote.engine.run.RunListener;
import org.slabnote.engine.trace.OutOfDate;

/** A run that the test leads: what it finds wrong, and when it is done. */
final class FakeRun implements JobRun {
  final AtomicInteger runs = new AtomicInteger();
  final AtomicInteger records = new AtomicInteger();
  volatile String ran = "";
  volatile List<String> more = List.of();
  private final CountDownLatch cancelled = new CountDownLatch(1);
  private volatile boolean waits;

  /** Lets every run wait until it is cancelled. */
  void waitForCancel() {
    waits = true;
  }

  @Override
  public Results before(String notebookText) {
    return SlabFixture.before();
  }

  /** A word that no cell may say stands for what the compiler finds. */
  @Override
  public List<Problem> check(String notebookText) {
    Document document = Document.parse("interpretation.md", notebookText);
    return document.cells().stream()
        .filter(cell -> cell.source().contains("nonsense"))
        .map(cell -> {
          List<String> lines = cell.source().lines().toList();
          int line = cell.content().firstLine();
          while (!lines.get(line - cell.content().firstLine()).contains("nonsense")) {
            line++;
          }
          return new Problem(
              Problem.Kind.COMPILE,
              "interpretation.md",
              line,
              cell.name(),
              "cannot find symbol: variable nonsense");
        })
        .toList();
  }

  /** What the test says is out of date. */
  volatile OutOfDate outOfDate = OutOfDate.NOTHING;

  @Override
  public Optional<OutOfDate> outOfDate(String notebookText) {
    return Optional.of(outOfDate);
  }

  @Override
  public Results compute(String notebookText, Collection<String> steps, RunListener listener)
      throws BadInput {
    runs.incrementAndGet();
    ran = notebookText;
    more = List.copyOf(steps);
    List<Problem> problems = check(notebookText);
    if (!problems.isEmpty()) {
      throw new BadInput(problems);
    }
    listener.stage("computing");
    listener.steps(1, 4);
    listener.outlook(new Outlook(1, 4, OptionalDouble.of(12), true, List.of()));
    listener.step("setup/across/E01", 0.4);
    if (waits) {
      try {
        cancelled.await();
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
      throw new RunCancelled();
    }
    return SlabFixture.found();
  }

  @Override
  public Results record(RunListener listener) {
    records.incrementAndGet();
    return SlabFixture.found();
  }

  @Override
  public void cancel() {
    cancelled.countDown();
  }
}
