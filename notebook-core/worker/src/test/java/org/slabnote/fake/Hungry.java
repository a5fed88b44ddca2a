package org.slabnote.fake;

import java.nio.ByteBuffer;
import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Table;
import org.slabnote.api.Work;

/** Takes all there is of something. */
@Op(id = "fake.hungry", revision = 1, purpose = Purpose.MODEL)
public record Hungry(@Param(meaning = "of what") What what, int megabytes)
    implements Operation<Table> {
  /** Of what. */
  public enum What {
    /** Memory in large pieces. */
    HEAP,
    /** Memory in small pieces, so that collecting never ends. */
    CRUMBS,
    /** Memory outside the heap. */
    DIRECT,
    /** Threads, as far as each has a stack of this size. */
    THREADS
  }

  @Override
  public Table apply(Work work) {
    List<Object> eaten = new ArrayList<>();
    while (eaten.size() < Integer.MAX_VALUE) {
      switch (what) {
        case HEAP -> eaten.add(new byte[megabytes << 20]);
        case CRUMBS -> eaten.add(List.of(eaten.size(), new Object()));
        case DIRECT -> eaten.add(ByteBuffer.allocateDirect(megabytes << 20));
        case THREADS -> eaten.add(thread());
      }
    }
    throw new AssertionError(eaten.get(0));
  }

  private Thread thread() {
    Thread thread = new Thread(
        null,
        () -> {
          try {
            Thread.sleep(60_000);
          } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
          }
        },
        "eaten",
        (long) megabytes << 40); // no machine has room for such a stack
    thread.setDaemon(true);
    thread.start();
    return thread;
  }
}
