package org.slabnote.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.run.Remembered;
import org.slabnote.worker.store.Store;

/** What the commands for remembered steps print, and what they leave. */
class StoreCommandTest {
  @TempDir
  Path cache;

  private Bench bench() {
    return new FakeBench() {
      @Override
      public Remembered remembered() {
        return new Remembered(cache);
      }
    };
  }

  private Said store(String... arguments) {
    String[] all = Stream.concat(Stream.of("store"), Stream.of(arguments)).toArray(String[]::new);
    return Said.of(bench(), all);
  }

  /** Three values of a kilobyte: with their keys six blocks of 4096 bytes. */
  private void fill() throws IOException {
    Store steps = new Remembered(cache).steps();
    for (int i = 0; i < 3; i++) {
      byte[] bytes = new byte[1000 + i];
      steps.put(Canonical.digest(i), Canonical.sha256(bytes), bytes);
    }
    for (Path file : files()) {
      Files.setLastModifiedTime(file, FileTime.from(Instant.parse("2026-03-04T05:06:07Z")));
    }
  }

  private List<Path> files() throws IOException {
    try (Stream<Path> all = Files.walk(cache)) {
      return all.filter(Files::isRegularFile).sorted().toList();
    }
  }

  @Test
  void showsWhatIsThere() throws IOException {
    fill();
    assertThat(store()).isEqualTo(new Said(0, "folder      " + cache + "\n" + """
                steps       3 values, 3 keys, 24.6 kB
                cells       0 values, 0 keys, 0 B
                oldest use  2026-03-04 05:06 UTC
                newest use  2026-03-04 05:06 UTC
                limit       4 GB for steps, 64 MB for cells
                """, ""));
  }

  @Test
  void showsAnEmptyFolderToo() {
    assertThat(store().out())
        .contains("steps       0 values, 0 keys, 0 B\n", "newest use  never\n");
    assertThat(cache).as("nothing is made").isEmptyDirectory();
  }

  @Test
  void setsTheLimitForTheNextCommandToo() {
    assertThat(store("--limit", "1.5 GB").out()).contains("limit       1.5 GB for steps");
    assertThat(store().out()).contains("limit       1.5 GB for steps");
  }

  @Test
  void trims() throws IOException {
    fill();
    assertThat(store("trim")).isEqualTo(new Said(0, "steps: 24.6 kB before, 24.6 kB now\n", ""));
    assertThat(store("trim", "--to", "10kB"))
        .isEqualTo(new Said(0, "steps: 24.6 kB before, 8.2 kB now\n", ""));
    Store steps = new Remembered(cache).steps();
    byte[] bytes = new byte[5];
    steps.put(Canonical.digest(9), Canonical.sha256(bytes), bytes);
    assertThat(store("trim", "--to", "0").out())
        .contains("8.2 kB now; what was used within the last quarter of an hour stays");
  }

  @Test
  void verifies() throws IOException {
    fill();
    assertThat(store("verify"))
        .isEqualTo(new Said(
            0,
            "steps: 3 values, 3 keys, 3 kB: as written\n"
                + "cells: 0 values, 0 keys, 0 B: as written\n",
            ""));
    Path value = files().stream()
        .filter(file -> file.toString().contains("values"))
        .findFirst()
        .orElseThrow();
    byte[] bytes = Files.readAllBytes(value);
    bytes[77] ^= 1;
    Files.write(value, bytes);
    Path stranger = Files.writeString(value.resolveSibling("notes"), "mine");
    Said said = store("verify");
    assertThat(said.status()).isEqualTo(1);
    assertThat(said.out())
        .contains("steps: 2 values, 2 keys, 2 kB; 1 damaged file deleted\ndeleted: " + value + "\n")
        .contains("1 key led to no value any more; deleted\n");
    assertThat(said.err()).isEqualTo(stranger + ": not of the store; left alone\n");
    assertThat(store("verify").status()).isZero();
  }

  @Test
  void clears() throws IOException {
    fill();
    store("--limit", "20MB");
    assertThat(store("clear"))
        .isEqualTo(new Said(
            0,
            "deleted, steps: 3 values, 3 keys, 24.6 kB\n"
                + "deleted, cells: 0 values, 0 keys, 0 B\n",
            ""));
    assertThat(files()).as("the limit stays").hasSize(1);
  }

  @Test
  void aFolderThatCannotBeWrittenIsStatus3() throws IOException {
    Files.writeString(cache.resolve("store"), "a file in its place");
    Said said = store("--limit", "20MB");
    assertThat(said.status()).isEqualTo(3);
    assertThat(said.err())
        .startsWith("slabnote: " + cache + ": what is remembered there cannot be written (")
        .endsWith("). Allow it, make room, or set XDG_CACHE_HOME to another folder\n");
  }

  @ParameterizedTest
  @ValueSource(strings = {"store", "store trim", "store verify", "store clear"})
  void helpTellsStatusFilesAndExample(String command) {
    Said said = Said.of(bench(), (command + " --help").split(" "));
    assertThat(said.status()).isZero();
    assertThat(said.err()).isEmpty();
    assertThat(said.out())
        .contains("Usage: slabnote " + command, "Exit status:\n  0", "Files:\n  reads", "Example")
        .contains("  slabnote " + command);
    assertThat(said.out().lines()).allMatch(line -> line.length() <= 80);
  }
}
