package org.slabnote.engine.run;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.record.RecordReader;
import org.slabnote.worker.process.WorkerProcess;
import org.slabnote.worker.run.InProcessWorker;
import org.slabnote.worker.store.ValueReader;

/** What a third party's operation must not do: caught, and charged to the plugin by name. */
class PluginFaultsTest {
  private static final String ODD = "odd.one of plugin odd 3.0 (plugins/odd.jar): ";
  private static final String AT = "cell bad, line 3: step bad/x: " + ODD;
  private static final String FAULT =
      ". This is a fault of the plugin, not of the cell: tell its author, and leave the step out "
          + "until it is put right";

  @TempDir
  private static Path cache;

  @TempDir
  private Path folder;

  private Path job;

  @BeforeEach
  void makeAJob() throws Exception {
    job = JobFixture.write(folder.resolve("job"), """
        ```java bad
        import com.example.odd.Odd;
        var x = run(new Odd(scan("E01", ACROSS)));
        table("x", x);
        ```
        """);
  }

  /** Runs with the worker in this process, which is quicker; where it matters, in its own. */
  private String refusal(boolean apart) throws Exception {
    WorkerComputation worker = new WorkerComputation(
        2,
        apart ? new WorkerProcess() : new InProcessWorker(getClass().getClassLoader()),
        (store, sha256) -> new ValueReader(store, getClass().getClassLoader()).byDigest(sha256),
        cache);
    try {
      new JobRunner(job, cache, Toolbox.find(), worker).run(RunListener.NONE);
      return "";
    } catch (BadInput bad) {
      assertThat(job.resolve("interpretation.record.jsonl")).doesNotExist();
      assertThat(bad.problems()).hasSize(1);
      return bad.getMessage();
    }
  }

  private String refusal(String body, String more) throws Exception {
    ThirdParties.pin(job, cache, folder, ThirdParties.odd(body, more), "odd.jar");
    return refusal(false);
  }

  @Test
  void oneThatKeepsItsContractIsLeftAlone() throws Exception {
    assertThat(refusal("return table(scan.get().sample(0, 0));", "")).isEmpty();
  }

  @Test
  void anExceptionThatWasNotMeant() throws Exception {
    assertThat(refusal("String s = null; return table(s.length());", ""))
        .startsWith(AT + "NullPointerException: ")
        .endsWith(" (thrown by com.example.odd.Odd, line 11)" + FAULT);
  }

  @Test
  void aRefusalIsNoFaultButNamesThePlugin() throws Exception {
    assertThat(refusal("throw new IllegalArgumentException(\"scan E01 is too short\");", ""))
        .isEqualTo("cell bad, line 3: " + ODD + "scan E01 is too short");
  }

  @Test
  void callsWithoutEnd() throws Exception {
    assertThat(refusal("return deep(1);", "static Table deep(int n) { return deep(n + 1); }"))
        .isEqualTo(
            AT + "calls without end: a method calls itself, directly or by others, and never "
                + "returns" + FAULT);
  }

  @Test
  void noValueAtAll() throws Exception {
    assertThat(refusal("return null;", ""))
        .isEqualTo(AT + "it gives null; expected a value" + FAULT);
  }

  @Test
  void aValueThatHoldsANull() throws Exception {
    assertThat(refusal("""
        return new Table(List.of(new Table.Numbers("x_1", null, 6)));""", "")).startsWith(AT).endsWith(FAULT);
  }

  @Test
  void aChangedInput() throws Exception {
    assertThat(refusal("""
        try {
          var field = Samples.class.getDeclaredField("values");
          field.setAccessible(true);
          ((float[]) field.get(scan.get().samples()))[0] = 77;
        } catch (ReflectiveOperationException e) {
          throw new AssertionError(e);
        }
        return table(1);""", ""))
        .matches(java.util.regex.Pattern.quote(
                AT + "it changes its input, step scan/E01/a: SHA-256 before ")
            + "[0-9a-f]{64}, after [0-9a-f]{64}"
            + java.util.regex.Pattern.quote(". Expected inputs left as they are. No other step got "
                + "what it changed" + FAULT));
  }

  @Test
  void theClock() throws Exception {
    assertDiffers(refusal("return table(System.nanoTime());", ""));
  }

  @Test
  void chanceWithoutASeed() throws Exception {
    assertDiffers(refusal("return table(new Random().nextDouble());", ""));
  }

  @Test
  void whatHangsOnTheThread() throws Exception {
    assertDiffers(refusal("""
        boolean[] other = new boolean[1];
        Thread own = Thread.currentThread();
        work.forEach(2, i -> {
          if (Thread.currentThread() != own) {
            other[0] = true;
          }
          long end = System.nanoTime() + 100_000_000;
          while (System.nanoTime() < end) { }
        });
        return table(other[0] ? 1 : 0);""", ""));
  }

  /** The first step gives the same twice; what was kept from it shows in the second. */
  @Test
  void stateKeptFromStepToStep() throws Exception {
    Files.writeString(job.resolve("interpretation.md"), """
        ```java bad
        import com.example.odd.Odd;
        var x = scans(ACROSS).each(s -> new Odd(s));
        table("x", x.of("E01"));
        if (x.of("E01").get().rows() > 0) {
          table("y", x.of("E02"));
        }
        ```
        """);
    String told = refusal("""
        if (first == null) {
          first = scan.get().sample(0, 0);
        }
        return table(first);""", "private static Float first;");
    assertThat(told).startsWith("cell bad, line 3: step bad/x/E02: " + ODD);
    assertDiffers(told);
  }

  @Test
  void anotherAnswerThanInAnEarlierRun() throws Exception {
    System.setProperty("slabnote.test.odd", "1");
    assertThat(refusal("return table(Integer.getInteger(\"slabnote.test.odd\"));", ""))
        .isEmpty();
    String before = RecordReader.open(job).fingerprints().get("bad/x").sha256();
    forget(before);
    System.setProperty("slabnote.test.odd", "2");
    Files.delete(job.resolve("interpretation.record.jsonl"));
    assertThat(refusal(false))
        .startsWith(
            AT + "it answers differently than in an earlier run: from the same inputs it gave "
                + "a value of SHA-256 " + before + ", now one of ")
        .endsWith(FAULT);
    System.setProperty("slabnote.test.odd", "1");
    assertThat(refusal(false)).isEmpty();
  }

  /** As if the store had made room. */
  private static void forget(String sha256) throws Exception {
    List<Path> files;
    try (Stream<Path> all = Files.walk(cache.resolve("store"))) {
      files = all.filter(Files::isRegularFile).toList();
    }
    int found = 0;
    for (Path file : files) {
      if (Canonical.sha256(Files.readAllBytes(file)).equals(sha256)) {
        Files.delete(file);
        found++;
      }
    }
    assertThat(found).isPositive();
  }

  private static void assertDiffers(String told) {
    assertThat(told)
        .matches("(?s)cell bad, line 3: step bad/x\\S*: "
            + java.util.regex.Pattern.quote(ODD + "it answers differently the second time: applied "
                + "to the same input, it gave a value of SHA-256 ")
            + "[0-9a-f]{64}, then one of [0-9a-f]{64}"
            + java.util.regex.Pattern.quote(
                ". Perhaps it uses the clock, chance without a seed, or "
                    + "what it kept from another step, or its result hangs on the number of threads"
                    + FAULT));
  }

  @Test
  void aValueThatItChangesAfterwardsReachesNobody() throws Exception {
    assertThat(refusal("""
        if (kept == null) {
          kept = new ArrayList<>(List.of("a"));
        }
        new Thread(() -> kept.set(0, "b")).start();
        return new Table(List.of(new Table.Text("t", kept)));""", "static List<String> kept;")).isEmpty();
    assertThat(JobRunner.of(job, cache, 2).record().tables().get("x").csv()).isEqualTo("t\na\n");
  }

  @Test
  void aTypeThatCannotBeRecorded() throws Exception {
    Files.writeString(job.resolve("interpretation.md"), """
        ```java bad
        import com.example.odd.Odd;
        var x = run(new Odd(scan("E01", ACROSS)));
        show(x);
        ```
        """);
    ThirdParties.pin(
        job,
        cache,
        new JarMaker()
            .coordinates("com.example.odd", "odd", "3.0")
            .plugin("com.example.odd.OddPlugin", "odd", "Odd.class", "")
            .source("com.example.odd.Odd", """
                package com.example.odd;
                import org.slabnote.api.*;
                @Op(id = "odd.one", revision = 1, purpose = Purpose.TABLE)
                public record Odd(Step<Scan> scan) implements Operation<StringBuilder> {
                  public StringBuilder apply(Work work) { return new StringBuilder("x"); }
                }
                """)
            .build(folder.resolve("built/odd.jar")));
    assertThat(refusal(false))
        .isEqualTo(
            AT + "what it gives cannot be recorded: StringBuilder: a java.lang.StringBuilder "
                + "has no canonical form; expected records, enums, text, numbers, Samples, Doubles, "
                + "Optional, lists, sorted maps" + FAULT);
  }

  @Test
  void aValueOfAnotherTypeThanItSays() throws Exception {
    assertThat(refusal("return (Table) (Object) List.of();", ""))
        .startsWith(AT + "ClassCastException: ")
        .endsWith(FAULT);
  }

  @Test
  void aListOfOtherThingsThanItSays() throws Exception {
    Files.writeString(job.resolve("interpretation.md"), """
        ```java bad
        import com.example.odd.Odd;
        var x = run(new Odd(scan("E01", ACROSS)));
        for (Point p : x.get()) {
          p.x();
        }
        ```
        """);
    ThirdParties.pin(
        job,
        cache,
        new JarMaker()
            .coordinates("com.example.odd", "odd", "3.0")
            .plugin("com.example.odd.OddPlugin", "odd", "Odd.class", "")
            .source("com.example.odd.Odd", """
                package com.example.odd;
                import java.util.List;
                import org.slabnote.api.*;
                @Op(id = "odd.one", revision = 1, purpose = Purpose.TABLE)
                public record Odd(Step<Scan> scan) implements Operation<List<Point>> {
                  @SuppressWarnings({"unchecked", "rawtypes"})
                  public List<Point> apply(Work work) { return (List) List.of("no point"); }
                }
                """)
            .build(folder.resolve("built/odd.jar")));
    assertThat(refusal(false))
        .isEqualTo(
            AT + "its value[0] is a java.lang.String; expected a org.slabnote.api.Point" + FAULT);
  }

  @Test
  void aRecordThatCannotBeMade() throws Exception {
    assertThat(
            refusal("return table(1);", "public Odd { if (1 / (scan == null ? 1 : 0) > 0) { } }"))
        .isEqualTo("cell bad, line 3: plugin odd 3.0 (plugins/odd.jar): ArithmeticException: / by "
            + "zero (thrown by com.example.odd.Odd, line 6)" + FAULT);
  }

  @Test
  void aRecordThatIsNeverMade() throws Exception {
    Files.writeString(
        job.resolve("job.toml"),
        Files.readString(job.resolve("job.toml")) + "[limits]\ntime_s = 3\n");
    assertThat(refusal("return table(1);", "public Odd { while (scan != null) { } }"))
        .isEqualTo(
            "cell bad, line 3: plugin odd 3.0 (plugins/odd.jar) has not ended after 3 s, the "
                + "limit of the run. Make it do less, or set a higher limit: time_s under [limits] in "
                + "job.toml");
  }

  @Test
  void aClassThatIsMissing() throws Exception {
    Path library = new JarMaker()
        .source(
            "gone.Gone",
            "package gone; public class Gone { public static double x() { return 1; } }")
        .build(folder.resolve("built/gone.jar"));
    JarMaker odd = ThirdParties.odd("return table(gone.Gone.x());", "").against(library);
    ThirdParties.pin(job, cache, folder, odd, "odd.jar");
    assertThat(refusal(false))
        .isEqualTo(AT + "it needs the class gone.Gone, which is neither in its jars nor among what "
            + "plugins may use. Perhaps a library is to be pinned with it" + FAULT);
    ThirdParties.pin(job, cache, odd.build(folder.resolve("built/odd.jar")), library);
    assertThat(refusal(false)).isEmpty();
  }

  @Test
  void slabnotesInsidesAreNotThere() throws Exception {
    assertThat(refusal("""
        try {
          return table(Class.forName("org.slabnote.worker.store.Store").getName().length());
        } catch (ClassNotFoundException e) {
          return table(0);
        }""", "")).isEmpty();
    assertThat(JobRunner.of(job, cache, 2).record().tables().get("x").csv())
        .isEqualTo("x_1\n0.000000\n");
  }

  @Test
  void aThreadThatIsLeftRunningIsTold() throws Exception {
    ThirdParties.pin(job, cache, folder, ThirdParties.odd("""
            Thread t = new Thread(() -> {
              try {
                Thread.sleep(60_000);
              } catch (InterruptedException e) {
                return;
              }
            }, "odd-cleaner");
            t.setDaemon(true);
            t.start();
            return table(1);""", ""), "odd.jar");
    List<Problem> warnings = JobRunner.of(job, cache, 2).run(RunListener.NONE).warnings();
    assertThat(warnings)
        .extracting(Problem::toString)
        .containsExactly("run: plugin odd 3.0 (plugins/odd.jar) left a thread running, "
            + "odd-cleaner. It ends with this run and reached no value; tell the plugin's author");
  }

  @Test
  void oneThatEndsTheProcess() throws Exception {
    ThirdParties.pin(
        job, cache, folder, ThirdParties.odd("System.exit(7); return null;", ""), "odd.jar");
    assertThat(refusal(true))
        .startsWith("cell bad, line 3: step bad/x: " + ODD
            + "the worker process ended by itself (exit status 7)")
        .contains("com.example.odd.Odd, line 11, called exit");
  }

  @Test
  void oneThatNeverEnds() throws Exception {
    Files.writeString(
        job.resolve("job.toml"),
        Files.readString(job.resolve("job.toml")) + "[limits]\ntime_s = 4\n");
    ThirdParties.pin(
        job,
        cache,
        folder,
        ThirdParties.odd("while (true) { Math.abs(1); }", "").manifest("x", "y"),
        "odd.jar");
    assertThat(refusal(true))
        .isEqualTo("cell bad, line 3: step bad/x: odd.one of plugin odd 3.0 (plugins/odd.jar) "
            + "has not ended after 4 s, the limit of the run. Make it do less, or set a higher "
            + "limit: time_s under [limits] in job.toml");
  }
}
