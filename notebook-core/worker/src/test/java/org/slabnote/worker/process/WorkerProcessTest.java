package org.slabnote.worker.process;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.Job;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.Failure;
import org.slabnote.worker.TapeMaker;
import org.slabnote.worker.run.Folders;
import org.slabnote.worker.run.InProcessWorker;

class WorkerProcessTest {
  @TempDir
  Path folder;

  private Job job;
  private final WorkerProcess worker = new WorkerProcess();

  @BeforeEach
  void makeJob() throws IOException {
    job = new Job(folder).limits(2, 64, 30);
  }

  private Failure failure(TapeMaker cells) {
    RunOutcome outcome = worker.run(job.request(cells), RunListener.NONE);
    assertThat(outcome.failures()).hasSize(1);
    return outcome.failures().get(0);
  }

  private static TapeMaker cell(String code) {
    return new TapeMaker().cell("first", 3).say("int a = 1;").cell("odd", 9).say(code);
  }

  private static TapeMaker whole() {
    return new TapeMaker()
        .cell("setup", 12)
        .let("Steps<Scan>", "across", "scans(ACROSS).then(new Scaled(new Ratio(2)))")
        .cell("sums", 30)
        .let("Step<Measured<Length>>", "total", "run(new Total(across.each(s -> new Peak(s))))")
        .say("System.out.println(\"between the frames\"); show(across.of(\"E02\"), total);")
        .say("conclude(\"C1\", run(new Verdicts(total))); run(new Named(Named.Colour.RED)).get();");
  }

  @Test
  void givesTheOutcomeOfARunInProcess() {
    List<String> heard = Collections.synchronizedList(new ArrayList<>());
    RunOutcome outcome = worker.run(job.request(whole()), new RunListener() {
      @Override
      public void cell(String cell, CellState state) {
        heard.add(cell + " " + state);
      }

      @Override
      public void stepFinished(String address, double seconds) {
        heard.add(address);
      }
    });
    assertThat(outcome.failures()).isEmpty();
    assertThat(heard).contains("setup REPLAYED", "sums DONE", "sums/total");
    RunOutcome here = new InProcessWorker(getClass().getClassLoader())
        .run(job.request(whole()), RunListener.NONE);
    assertThat(Canonical.digest(here)).isEqualTo(Canonical.digest(outcome));
  }

  /** Where the machine has several JDKs side by side, each gives the same bytes, with 1 and with 7 threads. */
  @Test
  void givesEqualBytesOnEveryJavaThatIsThere() throws IOException {
    Path own = Path.of(System.getProperty("java.home")).toRealPath();
    List<Path> homes = new ArrayList<>(List.of(own));
    try (Stream<Path> beside = Files.list(own.getParent())) {
      beside
          .filter(home -> isNewEnough(home) && !homes.contains(home))
          .sorted()
          .forEach(homes::add);
    }
    List<String> digests = new ArrayList<>();
    for (Path home : homes) {
      for (int threads : new int[] {1, 7}) {
        job.limits(threads, 64, 30);
        Folders.delete(Files.createDirectories(job.store()));
        RunOutcome outcome = new WorkerProcess(home).run(job.request(whole()), RunListener.NONE);
        assertThat(outcome.failures()).isEmpty();
        digests.add(Canonical.digest(outcome));
      }
    }
    assertThat(digests).hasSizeGreaterThanOrEqualTo(2).containsOnly(digests.get(0));
  }

  private static boolean isNewEnough(Path home) {
    try {
      return Files.readString(home.resolve("release"))
          .lines()
          .filter(line -> line.startsWith("JAVA_VERSION=\""))
          .anyMatch(line -> Integer.parseInt(line.replaceAll("[^0-9]*([0-9]+).*", "$1")) >= 17);
    } catch (IOException e) {
      return false; // no JDK
    }
  }

  @Test
  void tellsAWorkerThatDied() {
    Failure f = failure(cell("table(\"t\", run(new Kills(Kills.How.HALT, 9)));"));
    assertThat(f.kind()).isEqualTo(Failure.Kind.DIED);
    assertThat(f.text())
        .isEqualTo("cell odd, line 9: step odd/fake.kills.1: fake.kills: "
            + "the worker process ended by itself (exit status 9). Nothing but time is lost: "
            + "run again, and leave out what is named here if it happens again");
  }

  @Test
  void tellsAPluginThatExitsOrCrashesTheWorker() {
    assertThat(failure(cell("int b = 1;\ntable(\"t\", run(new Kills(Kills.How.EXIT, 0)));"))
            .text())
        .startsWith("cell odd, line 10: step odd/fake.kills.1: fake.kills: "
            + "the worker process ended by itself (exit status 0), saying: "
            + "org.slabnote.fake.Kills, line 27, called exit. Nothing but time is lost");
    assertThat(
            failure(cell("table(\"t\", run(new Kills(Kills.How.CRASH, 0)));")).text())
        .startsWith("cell odd, line 9: step odd/fake.kills.1: fake.kills: "
            + "the worker process crashed (SIGSEGV), perhaps in native code of a "
            + "plugin. Nothing but time is lost");
  }

  @Test
  void tellsThatThreadsAndMemoryOutsideTheHeapAreExhausted() {
    Failure threads = failure(cell("table(\"t\", run(new Hungry(Hungry.What.THREADS, 128)));"));
    assertThat(threads.kind()).isEqualTo(Failure.Kind.EXCEPTION);
    assertThat(threads.text())
        .startsWith("cell odd, line 9: step odd/fake.hungry.1: fake.hungry: "
            + "the system gives the worker no more threads");
    Failure direct = failure(cell("table(\"t\", run(new Hungry(Hungry.What.DIRECT, 4)));"));
    assertThat(direct.kind()).isEqualTo(Failure.Kind.MEMORY);
    assertThat(direct.text()).contains("fake.hungry: the memory of the worker, 64 MB, is full");
    Failure crumbs = failure(cell("table(\"t\", run(new Hungry(Hungry.What.CRUMBS, 1)));"));
    assertThat(crumbs.kind()).isEqualTo(Failure.Kind.MEMORY);
    assertThat(crumbs.cell()).isEqualTo("odd");
  }

  /** No stop point is ever reached: the process is ended around it. */
  @Test
  void endsLibraryCallsThatNothingReaches() {
    job.limits(2, 64, 2);
    for (String code : List.of(
        "java.math.BigInteger b = java.math.BigInteger.valueOf(7).pow(200_000_000);",
        "boolean b = \"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa!\".matches(\"((a+)\\\\2?)+b\");",
        "long n = java.util.stream.LongStream.range(0, Long.MAX_VALUE).map(Math::abs).max().getAsLong();")) {
      Failure f = failure(cell("int k = 0;\n" + code));
      assertThat(f.kind()).as(code).isEqualTo(Failure.Kind.TIME);
      assertThat(f.text()).as(code).startsWith("cell odd, line 10: this has not ended after 2 s");
    }
  }

  @Test
  void tellsAFullHeapAndGoesOnWithTheNextRun() {
    Failure step = failure(cell("table(\"t\", run(new Hungry(Hungry.What.HEAP, 4)));"));
    assertThat(step.kind()).isEqualTo(Failure.Kind.MEMORY);
    assertThat(step.text())
        .isEqualTo(
            "cell odd, line 9: step odd/fake.hungry.1: fake.hungry: "
                + "the memory of the worker, 64 MB, is full. Compute less at once, or give the run more");
    Failure inCell =
        failure(cell("List<Object> l = new ArrayList<>();\nwhile (true) l.add(new byte[100000]);"));
    assertThat(inCell.kind()).isEqualTo(Failure.Kind.MEMORY);
    assertThat(inCell.cell()).isEqualTo("odd");
    assertThat(inCell.line()).isEqualTo(10);
    assertThat(worker.run(job.request(whole()), RunListener.NONE).failures()).isEmpty();
  }

  @Test
  void endsACellThatNeverEndsAndSaysWhere() {
    job.limits(2, 64, 3);
    long start = System.nanoTime();
    Failure f = failure(cell("int i = 0;\nwhile (true) { i++; }"));
    assertThat(f.kind()).isEqualTo(Failure.Kind.TIME);
    assertThat(f.text())
        .isEqualTo("cell odd, line 10: this has not ended after 3 s, the limit of the run. "
            + "Make it do less, or set a higher limit");
    assertThat((System.nanoTime() - start) / 1e9).isLessThan(8);
  }

  @Test
  void endsAStepThatLooksForNoCancel() {
    job.limits(1, 64, 3);
    Failure f = failure(cell("show(run(new Endless(false)));"));
    assertThat(f.kind()).isEqualTo(Failure.Kind.TIME);
    assertThat(f.cell()).isEqualTo("odd");
  }

  @Test
  void cancelsWithinAMoment() {
    for (String polite : List.of("true", "false")) {
      long[] asked = new long[1];
      RunOutcome outcome = worker.run(
          job.request(cell("show(run(new Endless(" + polite + ")));")), new RunListener() {
            @Override
            public void stepStarted(String address, String operation) {
              asked[0] = System.nanoTime();
              worker.cancel();
            }
          });
      double seconds = (System.nanoTime() - asked[0]) / 1e9;
      assertThat(outcome.failures())
          .extracting(Failure::kind)
          .containsExactly(Failure.Kind.CANCELLED);
      assertThat(seconds).isLessThan(1);
    }
  }

  @Test
  void tellsCallsWithoutEnd() {
    assertThat(failure(cell("run(new Deep(1)).get();")).kind()).isEqualTo(Failure.Kind.STACK);
  }

  @Test
  void keepsSecretsLocaleAndZoneFromTheCells() {
    TapeMaker cells = cell(
        "if (System.getenv().keySet().stream().anyMatch(k -> !k.equals(\"LC_ALL\"))) "
            + "throw new IllegalStateException(System.getenv().keySet().toString()); "
            + "if (!Locale.getDefault().equals(Locale.ROOT)) throw new IllegalStateException(\"locale\"); "
            + "if (!TimeZone.getDefault().getID().equals(\"UTC\")) throw new IllegalStateException(\"zone\"); "
            + "if (!System.lineSeparator().equals(\"\\n\")) throw new IllegalStateException(\"lines\"); "
            + "if (!java.nio.charset.Charset.defaultCharset().name().equals(\"UTF-8\")) throw new IllegalStateException(\"charset\");");
    assertThat(worker.run(job.request(cells), RunListener.NONE).failures()).isEmpty();
  }
}
