package org.slabnote.engine.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.worker.Planned;

class EstimateTest {
  @TempDir
  private Path cache;

  private static Planned step(String address, int index, String operation, String... inputs) {
    return new Planned(address, index, operation, "a1", 1000, List.of(inputs));
  }

  private static void learn(Durations durations, String operation, double seconds) {
    durations.learn(step("x", 0, operation), seconds);
  }

  @Test
  void beforeAnythingIsKnownItSaysNothing() {
    Estimate estimate = new Estimate(Durations.in(cache), 2);
    assertThat(estimate.now(0).words()).isEmpty();
    estimate.planned(List.of(step("a", 0, "p.one")));
    estimate.started("a", 0);
    assertThat(estimate.now(5).words()).isEmpty();
    assertThat(estimate.now(5).running()).hasSize(1);
  }

  /** Four steps of 10 s on two threads: 20 s; in a chain: 40 s. By hand. */
  @Test
  void workIsSharedAmongThreadsAndAChainIsNot() {
    Durations durations = Durations.in(cache);
    learn(durations, "p.one", 10);
    Estimate wide = new Estimate(durations, 2);
    wide.planned(List.of(
        step("a", 0, "p.one"),
        step("b", 1, "p.one"),
        step("c", 2, "p.one"),
        step("d", 3, "p.one")));
    wide.complete();
    assertThat(wide.now(0).words()).isEqualTo("about 20 s left");
    Estimate chain = new Estimate(durations, 2);
    chain.planned(List.of(
        step("a", 0, "p.one"),
        step("b", 1, "p.one", "a"),
        step("c", 2, "p.one", "b"),
        step("d", 3, "p.one", "c")));
    chain.complete();
    assertThat(chain.now(0).words()).isEqualTo("about 40 s left");
  }

  @Test
  void aStepNeverSeenMakesItALowerBound() {
    Durations durations = Durations.in(cache);
    learn(durations, "p.one", 10);
    Estimate estimate = new Estimate(durations, 1);
    estimate.planned(List.of(step("a", 0, "p.one"), step("b", 1, "p.two", "a")));
    estimate.complete();
    assertThat(estimate.now(0).words()).isEqualTo("more than 10 s left");
    Estimate replaying = new Estimate(durations, 1);
    replaying.planned(List.of(step("a", 0, "p.one")));
    assertThat(replaying.now(0).words()).isEqualTo("more than 10 s left");
  }

  @Test
  void theShareOfARunningStepCounts() {
    Durations durations = Durations.in(cache);
    learn(durations, "p.one", 10);
    Estimate estimate = new Estimate(durations, 1);
    estimate.planned(List.of(step("a", 0, "p.one")));
    estimate.complete();
    estimate.started("a", 0);
    estimate.progress("a", 0.5);
    Outlook.Running running = estimate.now(20).running().get(0);
    assertThat(running.share()).isEqualTo(0.5);
    // half way to 20 s by its share, half way to 5 s by what was usual
    assertThat(running.seconds().orElseThrow()).isCloseTo(12.5, within(1e-9));
    estimate.progress("a", 0.3); // from another thread, late
    assertThat(estimate.now(20).running().get(0).share()).isEqualTo(0.5);
  }

  @Test
  void newsInAnyOrderAreTaken() {
    Durations durations = Durations.in(cache);
    learn(durations, "p.one", 10);
    Estimate estimate = new Estimate(durations, 1);
    estimate.started("a", 0);
    estimate.finished("a", 3);
    estimate.planned(List.of(step("a", 0, "p.one"), step("b", 1, "p.one")));
    estimate.complete();
    assertThat(estimate.now(3).words()).isEqualTo("about 10 s left");
  }

  @Test
  void durationsGoWithSizeAndOutliveTheProcess() throws Exception {
    Durations durations = Durations.in(cache);
    durations.learn(new Planned("a", 0, "p.one", "a1", 1000, List.of()), 2);
    durations.learn(new Planned("a", 0, "p.one", "a1", 1000, List.of()), 4);
    durations.keep();
    Planned large = new Planned("b", 0, "p.one", "other", 4000, List.of());
    assertThat(Durations.in(cache).of(large).orElseThrow()).isCloseTo(12, within(1e-9));
    assertThat(Durations.in(cache).of(step("b", 0, "p.two"))).isEmpty();
    Path file = cache.resolve("durations");
    byte[] whole = Files.readAllBytes(file);
    for (int i = 0; i < whole.length; i++) {
      byte[] damaged = whole.clone();
      damaged[i] ^= 1;
      Files.write(file, damaged);
      assertThat(Durations.in(cache).of(large)).isEmpty();
    }
    Files.write(file, new byte[0]);
    assertThat(Durations.in(cache).of(large)).isEmpty();
  }

  /** Whatever the estimate does, what is shown is never negative and never jumps while nothing new comes. */
  @Test
  void whatIsShownRunsDownLikeAClock() {
    java.util.SplittableRandom random = new java.util.SplittableRandom(7);
    Steadied steadied = new Steadied();
    double before = steadied.next(60, 0, true);
    List<Double> shown = new ArrayList<>();
    for (int i = 1; i <= 400; i++) {
      double now = i * 0.25;
      double estimate = Math.max(0, 60 - now) * (0.8 + 0.4 * random.nextDouble());
      double next = steadied.next(estimate, now, false);
      assertThat(next).isNotNegative();
      assertThat(next - before).isBetween(-6.0, 1.0);
      shown.add(next);
      before = next;
    }
    for (int i = 1; i < shown.size(); i++) {
      assertThat(shown.get(i)).isLessThanOrEqualTo(shown.get(i - 1) + 1e-9);
    }
    assertThat(shown.get(100)).isBetween(20.0, 40.0);
  }

  @Test
  void aLastingDoubtIsBelievedInTheEnd() {
    Steadied steadied = new Steadied();
    steadied.next(5, 0, true);
    double shown = 0;
    for (int i = 1; i <= 80; i++) {
      shown = steadied.next(60, i * 0.25, false);
    }
    assertThat(shown).isBetween(40.0, 60.0);
    assertThat(steadied.next(90, 21, true)).isEqualTo(90);
  }

  @Test
  void timesReadAsPeopleSayThem() {
    assertThat(List.of(
            Outlook.time(0.2),
            Outlook.time(7.4),
            Outlook.time(33),
            Outlook.time(58),
            Outlook.time(600),
            Outlook.time(8000)))
        .containsExactly("1 s", "7 s", "35 s", "1 min", "10 min", "2 h");
  }
}
