package org.slabnote.worker.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.codec.Canonical;

class StoreTest {
  @TempDir
  Path folder;

  private static String key(int i) {
    return Canonical.digest(i);
  }

  private static byte[] bytes(int i) {
    return ("value " + i).repeat(100).getBytes(StandardCharsets.UTF_8);
  }

  private static void put(Store store, int i) throws IOException {
    store.put(key(i), Canonical.sha256(bytes(i)), bytes(i));
  }

  private List<Path> files() throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      return all.filter(Files::isRegularFile).sorted().toList();
    }
  }

  @Test
  void givesBackWhatWasPut() throws IOException {
    Store store = Store.at(folder);
    assertThat(store.has(key(1))).isFalse();
    put(store, 1);
    Store other = Store.at(folder);
    assertThat(other.has(key(1))).isTrue();
    String digest = other.digestOf(key(1)).orElseThrow();
    assertThat(other.bytes(digest)).hasValue(bytes(1));
    assertThat(files()).hasSize(2).allMatch(f -> f.startsWith(folder.resolve("steps-1")));
  }

  /** Every 7th bit of the key's file and every 350th of the value's, each flipped: never a wrong value. */
  @Test
  void ignoresAndMendsWhatIsDamaged() throws IOException {
    Store store = Store.at(folder);
    put(store, 1);
    for (Path file : files()) {
      byte[] good = Files.readAllBytes(file);
      for (int bit = 0; bit < 8 * good.length; bit += good.length > 200 ? 350 : 7) {
        byte[] bad = good.clone();
        bad[bit / 8] ^= (byte) (1 << bit % 8);
        Files.write(file, bad);
        assertThat(store.digestOf(key(1)).flatMap(store::bytes))
            .as("%s bit %d", file, bit)
            .isEmpty();
        put(store, 1);
        assertThat(store.digestOf(key(1)).flatMap(store::bytes)).hasValue(bytes(1));
      }
    }
  }

  @Test
  void ignoresWhatIsCutShort() throws IOException {
    Store store = Store.at(folder);
    put(store, 1);
    for (Path file : files()) {
      byte[] good = Files.readAllBytes(file);
      for (int n = 0; n < good.length; n += good.length > 200 ? 35 : 1) {
        Files.write(file, java.util.Arrays.copyOf(good, n));
        assertThat(store.digestOf(key(1)).flatMap(store::bytes)).isEmpty();
        put(store, 1);
      }
    }
  }

  /** A key's line moved to another key's name does not pass: the seal holds the key. */
  @Test
  void doesNotTakeOneKeyForAnother() throws IOException {
    Store store = Store.at(folder);
    put(store, 1);
    Path keys = folder.resolve("steps-1/keys");
    Path one = keys.resolve(key(1).substring(0, 2)).resolve(key(1).substring(2));
    Path two = keys.resolve(key(2).substring(0, 2)).resolve(key(2).substring(2));
    Files.createDirectories(two.getParent());
    Files.copy(one, two);
    assertThat(store.digestOf(key(2))).isEmpty();
  }

  @Test
  void serves8WritersAndReadersAtOnce() throws Exception {
    ExecutorService pool = Executors.newFixedThreadPool(8);
    List<Callable<Integer>> all = new ArrayList<>();
    for (int t = 0; t < 8; t++) {
      all.add(() -> {
        Store store = Store.at(folder);
        int read = 0;
        for (int i = 0; i < 200; i++) {
          int which = i % 20;
          put(store, which);
          byte[] got = store.digestOf(key(which)).flatMap(store::bytes).orElseThrow();
          read += java.util.Arrays.equals(got, bytes(which)) ? 1 : 0;
        }
        return read;
      });
    }
    for (Future<Integer> one : pool.invokeAll(all)) {
      assertThat(one.get()).isEqualTo(200);
    }
    pool.shutdown();
    assertThat(files()).as("no part is left").hasSize(40);
  }

  @Test
  void trimsTheOldestValuesAndOldParts() throws IOException {
    Store store = Store.at(folder);
    for (int i = 0; i < 10; i++) {
      put(store, i);
      Path value = folder
          .resolve("steps-1/values")
          .resolve(Canonical.sha256(bytes(i)).substring(0, 2))
          .resolve(Canonical.sha256(bytes(i)).substring(2));
      Files.setLastModifiedTime(value, FileTime.fromMillis(1_000_000L * (10 - i)));
    }
    Path part = Files.createFile(folder.resolve("steps-1/parts/value1.part"));
    Files.setLastModifiedTime(part, FileTime.fromMillis(0));
    assertThat(store.size()).isEqualTo(7000);
    store.trim(3500);
    assertThat(store.size()).isEqualTo(3500);
    assertThat(store.has(key(0))).isTrue();
    assertThat(store.has(key(9))).isFalse();
    assertThat(part).doesNotExist();
  }

  @Test
  void refusesNamesThatAreNoDigests() {
    assertThatThrownBy(() -> Store.at(folder).has("../../etc"))
        .hasMessage("name in the store: ../../etc; expected 64 lower-case hexadecimal digits");
  }
}
