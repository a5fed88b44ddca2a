package org.slabnote.worker.process;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/** The end of what a process printed. */
final class Tail {
  private static final int MOST = 2000;
  private static final long LAST_WORDS_MILLIS = 500;

  private final StringBuilder text = new StringBuilder();
  private final Thread follower;

  Tail(InputStream from) {
    follower = ChildProcess.daemon("worker-stderr", () -> {
      byte[] buffer = new byte[4096];
      try {
        for (int n = from.read(buffer); n >= 0; n = from.read(buffer)) {
          add(new String(Arrays.copyOf(buffer, n), StandardCharsets.UTF_8));
        }
      } catch (IOException e) {
        add(e.toString());
      }
    });
  }

  synchronized void add(String more) {
    text.append(more);
    if (text.length() > MOST) {
      text.delete(0, text.length() - MOST);
    }
  }

  /** Returns what was printed, once the process is gone, on one line. */
  String text() {
    try {
      follower.join(LAST_WORDS_MILLIS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    synchronized (this) {
      return text.toString().strip().replaceAll("\\s*\\R\\s*", " / ");
    }
  }
}
