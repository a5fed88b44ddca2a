package org.slabnote.worker.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.codec.Canonical;

/** Processes of their own at one store: two write and read the same and other keys, one trims and clears. */
class StoreProcessesTest {
  private static final int SHARED = 30;

  @TempDir
  Path folder;

  private static byte[] content(int which) {
    byte[] bytes = new byte[200 + 400 * (which % 50)];
    new SplittableRandom(which).nextBytes(bytes);
    return bytes;
  }

  /** One of the processes: what it does, the folder, its number; status 0 when all it read was right. */
  public static final class Peer {
    private Peer() {}

    /** Works for two seconds. */
    public static void main(String[] arguments) throws Exception {
      Path folder = Path.of(arguments[1]);
      int number = Integer.parseInt(arguments[2]);
      long end = System.nanoTime() + TimeUnit.SECONDS.toNanos(2);
      Store store = Store.at(folder);
      SplittableRandom random = new SplittableRandom(number);
      long read = 0;
      for (int round = 0; System.nanoTime() < end; round++) {
        if (arguments[0].equals("write")) {
          read += writeAndRead(store, random.nextInt(2) == 0 ? 0 : 1000 * number, random);
        } else {
          age(folder, random);
          store.trim(random.nextInt(40) * 4096L);
          if (round % 40 == 39) {
            store.clear();
          }
        }
      }
      System.out.println(read);
    }

    private static int writeAndRead(Store store, int from, SplittableRandom random)
        throws IOException {
      int which = from + random.nextInt(SHARED);
      byte[] bytes = content(which);
      store.put(Canonical.digest(which), Canonical.sha256(bytes), bytes);
      int other = from + random.nextInt(SHARED);
      return store
          .digestOf(Canonical.digest(other))
          .flatMap(store::bytes)
          .map(got -> {
            if (!java.util.Arrays.equals(got, content(other))) {
              throw new AssertionError("key " + other + " gave another value");
            }
            return 1;
          })
          .orElse(0);
    }

    /** Or nothing would be old enough to be trimmed. */
    private static void age(Path folder, SplittableRandom random) throws IOException {
      for (Path part : List.of(Path.of("keys"), Path.of("values"))) {
        for (Shelves.Entry entry : Shelves.entries(folder.resolve("steps-1").resolve(part))) {
          if (random.nextInt(3) == 0) {
            try {
              Files.setLastModifiedTime(entry.file(), FileTime.fromMillis(random.nextInt(1000)));
            } catch (java.nio.file.NoSuchFileException e) {
              continue;
            }
          }
        }
      }
    }
  }

  @Test
  void twoWriteWhileAThirdTrims() throws Exception {
    List<Process> peers = new ArrayList<>();
    peers.add(start("write", 1));
    peers.add(start("write", 2));
    peers.add(start("trim", 3));
    List<Long> read = new ArrayList<>();
    for (Process peer : peers) {
      assertThat(peer.waitFor(60, TimeUnit.SECONDS)).isTrue();
      String said =
          new String(peer.getInputStream().readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);
      assertThat(peer.exitValue()).as(said).isZero();
      read.add(Long.parseLong(said.strip()));
    }
    assertThat(read.get(0)).isGreaterThan(10);
    assertThat(read.get(1)).isGreaterThan(10);
    StoreCheck check = Store.at(folder).verify();
    assertThat(check.damaged()).isEmpty();
    assertThat(check.foreign()).isEmpty();
    Path parts = folder.resolve("steps-1/parts");
    if (Files.isDirectory(parts)) {
      try (Stream<Path> left = Files.list(parts)) {
        assertThat(left).isEmpty();
      }
    }
  }

  private Process start(String what, int number) throws IOException {
    return new ProcessBuilder(
            Path.of(System.getProperty("java.home"), "bin", "java").toString(),
            "-XX:TieredStopAtLevel=1",
            "-XX:+UseSerialGC",
            "-cp",
            System.getProperty("java.class.path"),
            Peer.class.getName(),
            what,
            folder.toString(),
            Integer.toString(number))
        .redirectErrorStream(true)
        .start();
  }
}
