package org.slabnote.worker.run;

import java.util.Arrays;
import java.util.stream.Collectors;

/** Words for faults of ours. */
final class Faults {
  private static final int FRAMES = 12;

  private Faults() {}

  static String words(Throwable e) {
    String at = Arrays.stream(e.getStackTrace())
        .limit(FRAMES)
        .map(StackTraceElement::toString)
        .collect(Collectors.joining(" < "));
    return "the worker has a fault: " + e + " at " + at + ". Please report it with this text";
  }
}
