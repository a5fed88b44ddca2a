package org.slabnote.worker.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
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

  private Path value(int i) {
    return Shelves.place(folder.resolve("steps-1/values"), Canonical.sha256(bytes(i)));
  }

  private Path keyFile(int i) {
    return Shelves.place(folder.resolve("steps-1/keys"), key(i));
  }

  /** Sets when a value and its key were last used, minutes before now. */
  private void used(int i, long minutesAgo) throws IOException {
    FileTime time = FileTime.from(Instant.now().minus(Duration.ofMinutes(minutesAgo)));
    Files.setLastModifiedTime(value(i), time);
    Files.setLastModifiedTime(keyFile(i), time);
  }

  /** Ten values and their keys take 20 blocks of 4096 bytes. */
  @Test
  void trimsWhatWasUsedLongestAgoAndOldParts() throws IOException {
    Store store = Store.at(folder);
    for (int i = 0; i < 10; i++) {
      put(store, i);
      used(i, 1000 - 10L * i);
    }
    Path part = Files.createFile(folder.resolve("steps-1/parts/value1.part"));
    Files.setLastModifiedTime(part, FileTime.from(Instant.now().minus(Duration.ofMinutes(61))));
    Path fresh = Files.createFile(folder.resolve("steps-1/parts/value2.part"));
    Files.setLastModifiedTime(fresh, FileTime.from(Instant.now().minus(Duration.ofMinutes(59))));
    assertThat(store.facts().bytes()).isEqualTo(20 * 4096);
    store.trim(10 * 4096);
    assertThat(store.facts().bytes()).isEqualTo(10 * 4096);
    for (int i = 0; i < 10; i++) {
      assertThat(store.has(key(i))).as("value %d", i).isEqualTo(i >= 5);
    }
    assertThat(part).doesNotExist();
    assertThat(fresh).exists();
  }

  @Test
  void useKeepsAValue() throws IOException {
    Store store = Store.at(folder);
    for (int i = 0; i < 10; i++) {
      put(store, i);
      used(i, 1000 - 10L * i);
    }
    assertThat(store.digestOf(key(0)).flatMap(store::bytes)).isPresent();
    assertThat(store.has(key(1))).isTrue();
    store.trim(4 * 4096);
    assertThat(store.has(key(0))).as("read").isTrue();
    assertThat(store.has(key(1))).as("asked for").isTrue();
    assertThat(store.has(key(9))).as("used last of the others").isFalse();
  }

  @Test
  void leavesWhatWasUsedWithinAQuarterOfAnHour() throws IOException {
    Store store = Store.at(folder);
    put(store, 0);
    put(store, 1);
    used(0, 14);
    used(1, 16);
    store.trim(0);
    assertThat(store.has(key(0))).isTrue();
    assertThat(store.has(key(1))).isFalse();
  }

  /** A clock that was set back: times to come say nothing of the last use. */
  @Test
  void takesTimesToComeForOldUntilTheyAreUsed() throws IOException {
    Store store = Store.at(folder);
    put(store, 0);
    put(store, 1);
    used(0, -3 * 24 * 60);
    used(1, -3 * 24 * 60);
    assertThat(store.has(key(1))).isTrue();
    store.trim(0);
    assertThat(store.has(key(0))).isFalse();
    assertThat(store.has(key(1))).isTrue();
  }

  @Test
  void takesKeysAwayThatLeadNowhere() throws IOException {
    Store store = Store.at(folder);
    put(store, 0);
    put(store, 1);
    byte[] same = bytes(0);
    store.put(key(2), Canonical.sha256(same), same);
    used(1, 30);
    used(0, 20);
    Files.setLastModifiedTime(value(0), FileTime.from(Instant.now().minus(Duration.ofMinutes(40))));
    Files.setLastModifiedTime(
        keyFile(2), FileTime.from(Instant.now().minus(Duration.ofMinutes(20))));
    store.trim(4 * 4096);
    assertThat(value(0)).doesNotExist();
    assertThat(keyFile(0)).doesNotExist();
    assertThat(keyFile(2)).as("its value went with key 0's").doesNotExist();
    assertThat(store.has(key(1))).isTrue();
  }

  /** 12 MB against 10 MB: seven eighths of the limit stay, those used last. */
  @Test
  void tidiesItselfDownToSevenEighthsOfItsLimit() throws IOException {
    StoreLimit.set(folder, 10_000_000);
    assertThat(StoreLimit.of(folder)).isEqualTo(10_000_000);
    Store store = Store.at(folder);
    for (int i = 0; i < 12; i++) {
      byte[] large = new byte[1_000_000];
      large[0] = (byte) i;
      String digest = Canonical.sha256(large);
      store.put(key(i), digest, large);
      FileTime time = FileTime.from(Instant.now().minus(Duration.ofMinutes(100 - i)));
      Files.setLastModifiedTime(Shelves.place(folder.resolve("steps-1/values"), digest), time);
      Files.setLastModifiedTime(keyFile(i), time);
    }
    store.tidy();
    assertThat(store.facts().bytes()).isBetween(7_500_000L, 8_750_000L);
    assertThat(store.has(key(11))).isTrue();
    assertThat(store.has(key(3))).isFalse();
  }

  /** A tidy walks the folder only when all processes together wrote a sixteenth of the limit. */
  @Test
  void countsWhatSeveralProcessesWrote() throws IOException {
    StoreLimit.set(folder, 32_000_000);
    Store one = Store.at(folder);
    put(one, 1);
    one.tidy();
    assertThat(folder.resolve("steps-1/untidied")).hasSize(1);
    Store other = Store.at(folder);
    put(other, 2);
    other.tidy();
    assertThat(folder.resolve("steps-1/untidied")).hasSize(2);
    put(one, 3);
    one.tidy();
    assertThat(folder.resolve("steps-1/untidied")).doesNotExist();
    one.tidy();
    assertThat(folder.resolve("steps-1/untidied")).as("nothing written").doesNotExist();
  }

  @Test
  void neitherFollowsNorDeletesWhatIsNotItsOwn() throws IOException {
    Path outside = Files.createDirectory(folder.resolve("outside"));
    Path precious = Files.writeString(outside.resolve("a".repeat(62)), "precious");
    Files.setLastModifiedTime(precious, FileTime.fromMillis(0));
    Store store = Store.at(folder.resolve("store"));
    put(store, 1);
    Path values = folder.resolve("store/steps-1/values");
    Path link = Files.createSymbolicLink(values.resolve("aa"), outside);
    String linked = "ab" + "b".repeat(62);
    Files.createDirectories(values.resolve("ab"));
    Files.createSymbolicLink(Shelves.place(values, linked), precious);
    Path note = Files.writeString(values.resolve("note.txt"), "mine");
    Path within = Files.writeString(values.resolve("ab/note.txt"), "mine");
    Path part = Files.createSymbolicLink(folder.resolve("store/steps-1/parts/x.part"), precious);
    assertThat(store.bytes(linked)).isEmpty();
    store.trim(0);
    assertThat(store.facts().values()).isEqualTo(1);
    assertThat(store.verify().foreign())
        .containsExactly(link, Shelves.place(values, linked), within, note);
    store.clear();
    assertThat(precious).hasContent("precious");
    assertThat(List.of(link, Shelves.place(values, linked), note, within, part))
        .allMatch(file -> Files.exists(file, LinkOption.NOFOLLOW_LINKS));
    assertThat(store.facts().values()).isZero();
  }

  @Test
  void livesWithAFolderInAValuesPlace() throws IOException {
    Store store = Store.at(folder);
    put(store, 1);
    Files.delete(value(1));
    Files.createDirectory(value(1));
    assertThat(store.has(key(1))).isFalse();
    assertThat(store.bytes(Canonical.sha256(bytes(1)))).isEmpty();
    Files.writeString(value(1).resolve("inside"), "mine");
    assertThatThrownBy(() -> put(store, 1)).isInstanceOf(IOException.class);
    assertThat(value(1).resolve("inside")).hasContent("mine");
    put(store, 2);
    assertThat(store.has(key(2))).isTrue();
  }

  @Test
  void startsAnewWhenItsFolderVanishes() throws IOException {
    Store store = Store.at(folder);
    put(store, 1);
    store.clear();
    assertThat(folder.resolve("steps-1")).doesNotExist();
    assertThat(store.has(key(1))).isFalse();
    put(store, 1);
    assertThat(store.digestOf(key(1)).flatMap(store::bytes)).hasValue(bytes(1));
  }

  @Test
  void verifiesEverythingAndTellsWhatItDeleted() throws IOException {
    Store store = Store.at(folder);
    for (int i = 0; i < 6; i++) {
      put(store, i);
    }
    flip(value(0));
    flip(keyFile(1));
    Files.delete(value(2));
    StoreCheck check = store.verify();
    assertThat(check.damaged()).containsExactlyInAnyOrder(value(0), keyFile(1));
    assertThat(check.astray()).as("keys of values 0 and 2").isEqualTo(2);
    assertThat(check.keys()).isEqualTo(3);
    assertThat(check.values()).isEqualTo(4);
    assertThat(check.bytes()).isEqualTo(4 * 700);
    assertThat(value(0)).doesNotExist();
    assertThat(store.verify().damaged()).isEmpty();
  }

  private static void flip(Path file) throws IOException {
    byte[] bytes = Files.readAllBytes(file);
    bytes[bytes.length / 2] ^= 4;
    Files.write(file, bytes);
  }

  @Test
  void refusesNamesThatAreNoDigests() {
    assertThatThrownBy(() -> Store.at(folder).has("../../etc"))
        .hasMessage("name in the store: ../../etc; expected 64 lower-case hexadecimal digits");
  }
}
