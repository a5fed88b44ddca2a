package org.slabnote.worker.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.store.Store;

/** Values are digested and written beside the steps, and no more waits than may. */
class StepMemoryTest {
  @TempDir
  Path folder;

  private final List<String> said = Collections.synchronizedList(new ArrayList<>());
  private final RunControl control = new RunControl(new RunListener() {
    @Override
    public void message(String text) {
      said.add(text);
    }
  });

  private StepMemory memory(Store store) {
    return new StepMemory(store, control, Long.MAX_VALUE);
  }

  /** Hears digests, on which threads, and what failed; holds the digesting thread as long as told. */
  private static final class Ear implements StepMemory.Heard {
    final List<String> threads = Collections.synchronizedList(new ArrayList<>());
    final List<String> digests = Collections.synchronizedList(new ArrayList<>());
    final List<Throwable> failures = Collections.synchronizedList(new ArrayList<>());
    final CountDownLatch hold = new CountDownLatch(1);
    final CountDownLatch held = new CountDownLatch(1);

    @Override
    public void digested(String digest, byte[] bytes) {
      threads.add(Thread.currentThread().getName());
      if (digests.isEmpty()) {
        held.countDown();
        try {
          assertThat(hold.await(20, TimeUnit.SECONDS)).isTrue();
        } catch (InterruptedException e) {
          Thread.currentThread().interrupt();
        }
      }
      digests.add(digest);
    }

    @Override
    public void failed(Throwable thrown) {
      failures.add(thrown);
    }
  }

  private static String key(int i) {
    return Canonical.digest(List.of("key", i));
  }

  @Test
  void theCallerGoesOnWhileAValueIsDigested() throws Exception {
    Store store = Store.at(folder);
    Ear ear = new Ear();
    try (StepMemory memory = memory(store)) {
      memory.demanded(key(1), List.of("value", 1), true, ear);
      assertThat(ear.held.await(20, TimeUnit.SECONDS)).isTrue();
      assertThat(ear.digests).as("not yet, and the caller is here").isEmpty();
      ear.hold.countDown();
      memory.awaitDigests();
      assertThat(ear.digests).containsExactly(Canonical.digest(List.of("value", 1)));
      assertThat(ear.threads).containsExactly("digest");
    }
    assertThat(store.digestOf(key(1))).hasValue(ear.digests.get(0));
    assertThat(store.bytes(ear.digests.get(0))).hasValue(Canonical.encode(List.of("value", 1)));
  }

  /** One is held, seven more wait; the ninth is digested by the thread that brings it. */
  @Test
  void whoBringsMoreThanMayWaitDigestsItself() throws Exception {
    Ear ear = new Ear();
    try (StepMemory memory = memory(Store.at(folder))) {
      memory.demanded(key(0), 0, true, ear);
      assertThat(ear.held.await(20, TimeUnit.SECONDS)).isTrue();
      for (int i = 1; i < 8; i++) {
        memory.demanded(key(i), i, true, ear);
      }
      assertThat(ear.threads).containsExactly("digest");
      Ear own = new Ear();
      own.hold.countDown();
      memory.demanded(key(8), 8, true, own);
      assertThat(own.threads).containsExactly(Thread.currentThread().getName());
      ear.hold.countDown();
      memory.awaitDigests();
      assertThat(ear.digests).hasSize(8);
    }
  }

  @Test
  void aValueWithoutAnEncodingIsToldAndHoldsNothingUp() {
    Ear ear = new Ear();
    try (StepMemory memory = memory(Store.at(folder))) {
      memory.demanded(key(1), new Object(), true, ear);
      memory.awaitDigests();
    }
    assertThat(ear.failures).hasSize(1);
    assertThat(ear.failures.get(0)).isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void aStopEndsTheWait() throws Exception {
    Ear ear = new Ear();
    try (StepMemory memory = memory(Store.at(folder))) {
      memory.demanded(key(1), 1, true, ear);
      assertThat(ear.held.await(20, TimeUnit.SECONDS)).isTrue();
      control.stop(RunControl.Reason.CANCELLED);
      assertThatThrownBy(memory::awaitDigests).isInstanceOf(RunStopped.class);
      ear.hold.countDown();
    }
  }

  @Test
  void aFolderThatCannotBeWrittenIsToldOnce() throws Exception {
    Path file = Files.writeString(folder.resolve("store"), "in its place");
    Ear ear = new Ear();
    ear.hold.countDown();
    try (StepMemory memory = memory(Store.at(file))) {
      for (int i = 0; i < 20; i++) {
        memory.demanded(key(i), i, true, ear);
        memory.slow(key(100 + i), i);
      }
      memory.awaitDigests();
    }
    assertThat(ear.digests).hasSize(20);
    assertThat(said).hasSize(1);
    assertThat(said.get(0))
        .startsWith("steps are not remembered: " + file)
        .endsWith(
            ". Make room or allow writing there, or set XDG_CACHE_HOME to another folder. The "
                + "run goes on; the next will compute them again");
  }

  @Test
  void remembersNoMoreThanTheLimitOfWhatNobodyDemanded() {
    Store store = Store.at(folder);
    try (StepMemory memory = new StepMemory(store, control, -1)) {
      memory.slow(key(1), "undemanded");
      Ear ear = new Ear();
      ear.hold.countDown();
      memory.demanded(key(2), "demanded", true, ear);
    }
    assertThat(store.has(key(1))).isFalse();
    assertThat(store.has(key(2))).isTrue();
  }
}
