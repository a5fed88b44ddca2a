package org.slabnote.worker.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.slabnote.api.codec.Canonical;

/**
 * A store under random operations and damage, against a map: whatever is returned is right, and what
 * was put and not harmed since is there.
 */
class StoreModelTest {
  private static final int OPERATIONS = 1500;
  private static final int KEYS = 25;

  @TempDir
  Path folder;

  private final Map<Integer, byte[]> put = new HashMap<>();
  /** Keys that must be there: put, and nothing deleted or damaged since. */
  private final Map<Integer, byte[]> sure = new HashMap<>();

  private int found;
  private int missed;

  private static String key(int i) {
    return Canonical.digest(List.of("key", i));
  }

  /** Few contents, so that keys share values; sizes from empty to some blocks. */
  private static byte[] content(SplittableRandom random) {
    int which = random.nextInt(12);
    byte[] bytes = new byte[which * which * 90];
    new SplittableRandom(which).nextBytes(bytes);
    return bytes;
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5})
  void returnsWhatWasPutOrNothing(long seed) throws IOException {
    SplittableRandom random = new SplittableRandom(seed);
    List<Store> stores = List.of(Store.at(folder), Store.at(folder));
    for (int i = 0; i < OPERATIONS; i++) {
      Store store = stores.get(random.nextInt(2));
      int which = random.nextInt(KEYS);
      switch (random.nextInt(20)) {
        case 0, 1, 2, 3, 4, 5 -> putOne(store, which, content(random));
        case 6, 7, 8, 9, 10, 11, 12 -> getOne(store, which);
        case 13 -> flip(anyFile(random), random);
        case 14 -> anyFile(random).ifPresent(this::delete);
        case 15 -> cutShort(anyFile(random), random);
        case 16 -> leaveAPart(random);
        case 17 -> age(anyFile(random), random);
        case 18 -> trim(store, random);
        default -> verify(store, random);
      }
    }
    assertThat(found).as("values that were found").isGreaterThan(OPERATIONS / 10);
    assertThat(missed).as("values that were gone").isGreaterThan(15);
    assertThat(Store.at(folder).verify().foreign()).isEmpty();
    assertThat(Store.at(folder).verify().damaged()).as("all was deleted before").isEmpty();
  }

  private void putOne(Store store, int which, byte[] bytes) throws IOException {
    store.put(key(which), Canonical.sha256(bytes), bytes);
    put.put(which, bytes);
    // A value of the right size is left as it stands: a damaged one is found on reading.
    if (store.bytes(Canonical.sha256(bytes)).isEmpty()) {
      store.put(key(which), Canonical.sha256(bytes), bytes);
    }
    sure.put(which, bytes);
  }

  private void getOne(Store store, int which) {
    Optional<byte[]> got = store.digestOf(key(which)).flatMap(store::bytes);
    if (got.isPresent()) {
      assertThat(put).containsKey(which);
      assertThat(got.get()).isEqualTo(put.get(which));
      found++;
    } else {
      assertThat(sure).as("key %d was put and not harmed", which).doesNotContainKey(which);
      missed++;
    }
  }

  private Optional<Path> anyFile(SplittableRandom random) throws IOException {
    List<Path> files;
    try (Stream<Path> all = Files.walk(folder)) {
      files = all.filter(Files::isRegularFile)
          .filter(file -> file.getFileName().toString().length() == 62)
          .sorted()
          .toList();
    }
    return files.isEmpty()
        ? Optional.empty()
        : Optional.of(files.get(random.nextInt(files.size())));
  }

  /** What is done to a file harms every key that may lead to it. */
  private void harmed(Path file) {
    String digest = file.getParent().getFileName() + file.getFileName().toString();
    sure.entrySet()
        .removeIf(one ->
            key(one.getKey()).equals(digest) || Canonical.sha256(one.getValue()).equals(digest));
  }

  private void flip(Optional<Path> file, SplittableRandom random) throws IOException {
    if (file.isPresent()) {
      byte[] bytes = Files.readAllBytes(file.get());
      if (bytes.length > 0) {
        bytes[random.nextInt(bytes.length)] ^= (byte) (1 << random.nextInt(8));
        Files.write(file.get(), bytes);
        harmed(file.get());
      }
    }
  }

  private void cutShort(Optional<Path> file, SplittableRandom random) throws IOException {
    if (file.isPresent()) {
      byte[] bytes = Files.readAllBytes(file.get());
      Files.write(file.get(), Arrays.copyOf(bytes, random.nextInt(bytes.length + 1)));
      harmed(file.get());
    }
  }

  private void delete(Path file) {
    try {
      Files.delete(file);
      harmed(file);
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  /** What a process leaves that is killed while it writes. */
  private void leaveAPart(SplittableRandom random) throws IOException {
    Path parts = Files.createDirectories(folder.resolve("steps-1/parts"));
    Path part = Files.createTempFile(parts, "value", ".part");
    Files.write(part, new byte[random.nextInt(3000)]);
    Files.setLastModifiedTime(part, ago(random.nextInt(180)));
  }

  private static FileTime ago(long minutes) {
    return FileTime.from(Instant.now().minus(Duration.ofMinutes(minutes)));
  }

  private static void age(Optional<Path> file, SplittableRandom random) throws IOException {
    if (file.isPresent()) {
      Files.setLastModifiedTime(file.get(), ago(random.nextInt(-600, 3000)));
    }
  }

  private void trim(Store store, SplittableRandom random) throws IOException {
    long most = random.nextInt(40) * 4096L;
    store.trim(most);
    long now = System.currentTimeMillis();
    boolean more = store.facts().bytes() > most;
    try (Stream<Path> all = Files.walk(folder.resolve("steps-1"))) {
      for (Path file : all.filter(Files::isRegularFile).toList()) {
        long age = now - modified(file).orElse(now);
        if (more) {
          assertThat(age)
              .as("only what was used lately may be left")
              .isBetween(-600_000L, 900_000L);
        }
      }
    } catch (NoSuchFileException e) {
      return; // nothing was put yet
    }
    sure.entrySet()
        .removeIf(one ->
            !Files.exists(keyFile(one.getKey())) || !Files.exists(valueFile(one.getValue())));
  }

  private static Optional<Long> modified(Path file) throws IOException {
    return file.toString().contains("parts") || file.endsWith("untidied")
        ? Optional.empty()
        : Optional.of(Files.getLastModifiedTime(file).toMillis());
  }

  private Path keyFile(int which) {
    return Shelves.place(folder.resolve("steps-1/keys"), key(which));
  }

  private Path valueFile(byte[] bytes) {
    return Shelves.place(folder.resolve("steps-1/values"), Canonical.sha256(bytes));
  }

  private void verify(Store store, SplittableRandom random) throws IOException {
    if (random.nextInt(10) == 0) {
      StoreCheck check = store.verify();
      assertThat(check.foreign()).isEmpty();
      assertThat(check.keys()).isGreaterThanOrEqualTo(sure.size());
    }
  }
}
