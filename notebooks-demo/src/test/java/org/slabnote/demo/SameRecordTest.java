package org.slabnote.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.SurveyRow;

/**
 * The record is the same byte for byte, whatever the number of threads, the language, time zone,
 * encoding and line ends of the machine, and the Java that runs it.
 *
 * <p>The demo job, against the record that is kept with it; and two jobs with the starter notebook: the
 * full-wave scans, and four passes of the demo's slab with a cut. Each run begins with an empty cache.
 * Engine and worker use as many threads as Java tells processors ({@code -XX:ActiveProcessorCount}).
 */
class SameRecordTest {
  private static final List<String> PASSES = List.of("E06", "E07", "S06", "S07");
  private static final Pattern VERSION = Pattern.compile("JAVA_VERSION=\"(\\d+)");

  @TempDir
  private static Path folder;

  private static List<String> oneThread;

  @BeforeAll
  static void makeJobs() throws Exception {
    FullWaveTest.copyData(folder.resolve("fullwave"));
    somePasses(Files.createDirectory(folder.resolve("passes")));
    Slabnote slabnote = Slabnote.in(folder);
    slabnote.done("new", "one", "--survey", "fullwave/passes.csv");
    slabnote.done("new", "four", "--survey", "passes/survey.csv", "--cuts", "passes/cuts.csv");
    oneThread = records("one-thread", Slabnote.in(folder).with("-XX:ActiveProcessorCount=1"));
  }

  private static void somePasses(Path to) throws IOException {
    Path demo = Path.of("bath-plant-room");
    String table = BathPlantRoom.surveyTable()
        .lines()
        .filter(line -> line.startsWith("pass,") || PASSES.contains(line.substring(0, 3)))
        .collect(Collectors.joining("\n", "", "\n"));
    Files.writeString(to.resolve("survey.csv"), table);
    Files.copy(demo.resolve("cuts.csv"), to.resolve("cuts.csv"));
    for (SurveyRow row : BathPlantRoom.rows()) {
      if (PASSES.contains(row.pass())) {
        Files.copy(demo.resolve("scans").resolve(row.file()), to.resolve(row.file()));
      }
    }
  }

  /** Runs copies of both jobs in a folder of their own; returns the four files. */
  private static List<String> records(String name, Slabnote slabnote) throws IOException {
    Path own = Files.createDirectory(folder.resolve(name));
    Path one = Folders.copy(folder.resolve("one"), own.resolve("one"));
    Path four = Folders.copy(folder.resolve("four"), own.resolve("four"));
    slabnote.moved(own).done("run", "one");
    slabnote.moved(own).done("run", "four");
    return List.of(
        Folders.text(one.resolve("interpretation.record.jsonl")),
        Folders.text(one.resolve("interpretation.digests")),
        Folders.text(four.resolve("interpretation.record.jsonl")),
        Folders.text(four.resolve("interpretation.digests")));
  }

  /** Without findings and a conclusion in them, equal records would say little. */
  @Test
  void theRecordsTellOfFindingsAndConclusions() {
    assertThat(oneThread.get(0)).contains("\"finding\":\"T01\"");
    assertThat(oneThread.get(2))
        .contains("\"finding\":\"T01\"")
        .contains("\"conclusion\":\"C2\"")
        .contains("\"verdict\":");
  }

  @Test
  void aRecheckFromTheScansAgreesAndTouchesNothing() {
    Path own = folder.resolve("one-thread");
    var before = Folders.bytes(own.resolve("one"));
    Slabnote.Said said = Slabnote.in(own).run("recheck", "one");
    assertThat(said.out())
        .isEqualTo("same: a clean run from the scans gives the record, byte for byte\n");
    assertThat(said.status()).isZero();
    assertThat(Folders.bytes(own.resolve("one"))).isEqualTo(before);
  }

  /** One byte of one sample of one trace: the third byte of a float's four, so hardly to be seen. */
  @Test
  void aRecheckTellsOfOneChangedByteInAScan() throws Exception {
    Path job = Folders.copy(folder.resolve("one-thread/one"), folder.resolve("changed"));
    Path scan = job.resolve("scans/S1_across.sgy");
    byte[] bytes = Files.readAllBytes(scan);
    bytes[60_002] ^= 1;
    Files.write(scan, bytes);
    var before = Folders.bytes(job);
    Slabnote.Said said = Slabnote.in(folder).run("recheck", "changed");
    assertThat(said.status()).isEqualTo(1);
    assertThat(said.out()).startsWith("differs: ").contains("scans/S1_across.sgy");
    assertThat(Folders.bytes(job)).isEqualTo(before);
  }

  /** Turkish writes I without a dot, Kathmandu is 5 h 45 min ahead, both have undone programs before. */
  private static Slabnote elsewhere(Slabnote slabnote) {
    return slabnote.with(
        "-Duser.language=tr",
        "-Duser.country=TR",
        "-Duser.timezone=Asia/Kathmandu",
        "-Dfile.encoding=ISO-8859-9",
        "-Dline.separator=\r\n");
  }

  /** 1, 2 and 7 threads, here and elsewhere, on this Java and, where there is one, on another. */
  @Test
  void theDemoGivesTheRecordThatIsKeptWithIt() throws Exception {
    Slabnote here = Slabnote.in(folder);
    Optional<Path> other = otherJava();
    Slabnote there = other.isPresent() ? here.on(other.orElseThrow()) : here;
    List<String> kept = demo(Path.of("bath-plant-room"));
    assertThat(kept.get(0)).contains("\"finding\":\"T17\"").contains("\"conclusion\":\"C3\"");
    assertThat(demo("demo-1", here.with("-XX:ActiveProcessorCount=1"))).isEqualTo(kept);
    assertThat(demo("demo-2", elsewhere(there).with("-XX:ActiveProcessorCount=2")))
        .as(other.toString())
        .isEqualTo(kept);
    assertThat(demo("demo-7", elsewhere(here).with("-XX:ActiveProcessorCount=7")))
        .isEqualTo(kept);
  }

  /** Runs the demo without its record in a folder of its own; returns the record and the digests. */
  private static List<String> demo(String name, Slabnote slabnote) throws IOException {
    Path own = Files.createDirectory(folder.resolve(name));
    Path job = Folders.copy(Path.of("bath-plant-room"), own.resolve("job"));
    Files.delete(job.resolve("interpretation.record.jsonl"));
    Files.delete(job.resolve("interpretation.digests"));
    slabnote.moved(own).done("run", "job");
    return demo(job);
  }

  private static List<String> demo(Path job) {
    return List.of(
        Folders.text(job.resolve("interpretation.record.jsonl")),
        Folders.text(job.resolve("interpretation.digests")));
  }

  @Test
  void onSevenThreadsInAnotherLanguageZoneEncodingAndLineEnd() throws Exception {
    Slabnote elsewhere = elsewhere(Slabnote.in(folder)).with("-XX:ActiveProcessorCount=7");
    assertThat(records("seven-threads", elsewhere)).isEqualTo(oneThread);
  }

  @Test
  void onTwoThreadsOfAnotherJava() throws Exception {
    Optional<Path> other = otherJava();
    assumeTrue(
        other.isPresent(),
        "no other Java, 17 or newer, in /usr/lib/jvm; name one with -Dslabnote.other.jdk");
    Slabnote there = Slabnote.in(folder).on(other.orElseThrow()).with("-XX:ActiveProcessorCount=2");
    assertThat(records("other-java", there))
        .as(other.orElseThrow().toString())
        .isEqualTo(oneThread);
  }

  /** A full JDK, 17 or newer, of another version than this; the newest where there are several. */
  private static Optional<Path> otherJava() throws IOException {
    String named = System.getProperty("slabnote.other.jdk", "");
    if (!named.isEmpty()) {
      return Optional.of(Path.of(named));
    }
    Path all = Path.of("/usr/lib/jvm");
    if (!Files.isDirectory(all)) {
      return Optional.empty();
    }
    try (Stream<Path> homes = Files.list(all)) {
      return homes
          .filter(home -> Files.isExecutable(home.resolve("bin/javac")))
          .filter(home -> version(home) >= 17)
          .filter(home -> version(home) != Runtime.version().feature())
          .max((a, b) -> Integer.compare(version(a), version(b)));
    }
  }

  private static int version(Path home) {
    Path release = home.resolve("release");
    if (!Files.isRegularFile(release)) {
      return 0;
    }
    Matcher matcher = VERSION.matcher(Folders.text(release));
    return matcher.find() ? Integer.parseInt(matcher.group(1)) : 0;
  }
}
