package org.slabnote.worker.run;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.codec.Canonical;
import org.slabnote.fake.Peak;
import org.slabnote.worker.Job;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;

/** A damaged, closed or changed store costs time, never a result. */
class RememberingTest {
  @TempDir
  Path folder;

  private RunOutcome run(Job job) {
    return new InProcessWorker(getClass().getClassLoader())
        .run(job.request(ReplayTest.whole()), RunListener.NONE);
  }

  @Test
  void computesAgainWhatIsDamaged() throws IOException {
    Job job = new Job(folder);
    RunOutcome first = run(job);
    List<Path> values;
    try (Stream<Path> all = Files.walk(job.store().resolve("steps-1/values"))) {
      values = all.filter(Files::isRegularFile).toList();
    }
    assertThat(values).hasSizeGreaterThanOrEqualTo(4);
    for (Path value : values) {
      byte[] bytes = Files.readAllBytes(value);
      bytes[bytes.length / 2] ^= 4;
      Files.write(value, bytes);
    }
    int peaks = Peak.RUNS.get();
    assertThat(Canonical.digest(run(job))).isEqualTo(Canonical.digest(first));
    assertThat(Peak.RUNS.get()).isEqualTo(peaks + 2);
    assertThat(Canonical.digest(run(job))).isEqualTo(Canonical.digest(first));
    assertThat(Peak.RUNS.get()).as("mended").isEqualTo(peaks + 2);
  }

  @Test
  void readsNoValueThatItOnlyTells() throws IOException {
    Job job = new Job(folder);
    RunOutcome first = run(job);
    int peaks = Peak.RUNS.get();
    Path store = job.store().resolve("steps-1/values");
    List<String> got =
        first.cells().stream().flatMap(cell -> cell.got().stream()).toList();
    List<String> told = first.values().keySet().stream()
        .filter(address -> !got.contains(address))
        .toList();
    assertThat(told).isNotEmpty();
    for (String address : told) {
      RunOutcome.ValueFact fact = first.values().get(address);
      Path value =
          store.resolve(fact.sha256().substring(0, 2)).resolve(fact.sha256().substring(2));
      byte[] bytes = Files.readAllBytes(value);
      bytes[bytes.length / 2] ^= 4;
      Files.write(value, bytes);
    }
    List<String> remembered = new ArrayList<>();
    RunOutcome second = new InProcessWorker(getClass().getClassLoader())
        .run(job.request(ReplayTest.whole()), new RunListener() {
          @Override
          public void stepRemembered(String address) {
            remembered.add(address);
          }
        });
    assertThat(Canonical.digest(second)).isEqualTo(Canonical.digest(first));
    assertThat(remembered).doesNotHaveDuplicates().isNotEmpty();
    assertThat(Peak.RUNS.get()).isEqualTo(peaks);
  }

  @Test
  void goesOnWithoutAStoreAndSaysSo() throws IOException {
    Job job = new Job(folder);
    Files.writeString(job.store(), "a file where the folder should be");
    List<String> said = new ArrayList<>();
    RunOutcome outcome = new InProcessWorker(getClass().getClassLoader())
        .run(job.request(ReplayTest.whole()), new RunListener() {
          @Override
          public void message(String text) {
            said.add(text);
          }
        });
    assertThat(outcome.failures()).isEmpty();
    assertThat(said).hasSize(1);
    assertThat(said.get(0))
        .startsWith("steps are not remembered: ")
        .endsWith("The run goes on; the next will compute them again");
  }

  @Test
  void aChangedScanChangesWhatComesFromIt() throws IOException {
    RunOutcome first = run(new Job(folder));
    int peaks = Peak.RUNS.get();
    Path other = Files.createDirectory(folder.resolve("other"));
    Job changed = new Job(folder);
    Files.writeString(folder.resolve("E01a.txt"), "FAKE 3 4 11");
    RunOutcome stale = run(changed);
    assertThat(stale.failures()).as("remembered: the file is not even read").isEmpty();
    Job again = new Job(other).scan("E03", "a", 90, "FAKE 1 1 1");
    RunOutcome second = run(again);
    assertThat(second.failures()).isEmpty();
    assertThat(Peak.RUNS.get()).isEqualTo(peaks + 3);
    assertThat(second.values().get("sums/total").sha256())
        .isNotEqualTo(first.values().get("sums/total").sha256());
  }

  @Test
  void tellsAScanThatChangedUnderneath() throws IOException {
    Job job = new Job(folder);
    Files.writeString(folder.resolve("E01a.txt"), "FAKE 3 4 11");
    assertThat(run(job).failures())
        .extracting(RunOutcome.Failure::text)
        .containsExactly("E01a.txt: the file changed while the run was going on. Run again");
  }
}
