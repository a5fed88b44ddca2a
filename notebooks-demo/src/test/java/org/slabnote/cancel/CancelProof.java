package org.slabnote.cancel;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.engine.run.JobRunner;
import org.slabnote.engine.run.RunCancelled;
import org.slabnote.engine.run.RunListener;

/**
 * How long a run of the demo job takes to return once it is cancelled, at chance moments of its first
 * 15 seconds, nothing being remembered. Timed, so only on demand: {@code -Dslabnote.cancels=40}.
 */
@EnabledIfSystemProperty(named = "slabnote.cancels", matches = "\\d+")
class CancelProof {
  private static final int TIMES = Integer.getInteger("slabnote.cancels", 40);
  private static final double MOST_MILLIS = 200;
  private static final double MOMENTS_NANOS = 15e9;

  @TempDir
  private Path folder;

  @Test
  void aRunReturnsWithin200MillisecondsOfItsCancel() throws Exception {
    Path job = copy(Path.of("bath-plant-room"), folder.resolve("job"));
    Random random = new Random(4);
    List<Double> millis = new ArrayList<>();
    for (int i = 0; i < TIMES; i++) {
      double took = cancelledAfter(job, i, (long) (random.nextDouble() * MOMENTS_NANOS));
      if (took >= 0) {
        millis.add(took);
        System.out.println(String.format(Locale.ROOT, "%.0f ms", took));
      }
    }
    Collections.sort(millis);
    System.out.println(String.format(
        Locale.ROOT,
        "%d cancels: median %.0f ms, 90 %% %.0f ms, most %.0f ms",
        millis.size(),
        millis.get(millis.size() / 2),
        millis.get(millis.size() * 9 / 10),
        millis.get(millis.size() - 1)));
    assertThat(millis).hasSizeGreaterThan(TIMES / 2);
    assertThat(millis.get(millis.size() - 1)).isLessThan(MOST_MILLIS);
  }

  /** Returns the milliseconds from the cancel to the return; -1 where the run was over before. */
  private double cancelledAfter(Path job, int number, long nanos) throws Exception {
    long[] asked = new long[1];
    try (JobRunner runner = JobRunner.of(job, folder.resolve("cache" + number), 2)) {
      Thread thread = new Thread(() -> {
        try {
          TimeUnit.NANOSECONDS.sleep(nanos);
        } catch (InterruptedException e) {
          return; // the run is over
        }
        asked[0] = System.nanoTime();
        runner.cancel();
      });
      thread.start();
      try {
        runner.compute(RunListener.NONE);
        thread.interrupt();
        return -1;
      } catch (RunCancelled e) {
        return (System.nanoTime() - asked[0]) / 1e6;
      } finally {
        thread.join();
      }
    }
  }

  private static Path copy(Path from, Path to) throws IOException {
    try (Stream<Path> all = Files.walk(from)) {
      for (Path one : all.toList()) {
        Path target = to.resolve(from.relativize(one).toString());
        if (Files.isDirectory(one)) {
          Files.createDirectories(target);
        } else {
          Files.copy(one, target);
        }
      }
    }
    return to;
  }
}
