package org.slabnote.engine.run;

import java.util.List;
import java.util.OptionalDouble;

/**
 * How far a run is and how long it may still take, as far as earlier runs tell. No result depends on it.
 *
 * @param done steps done or remembered, of those known to be needed
 * @param known steps known to be needed so far
 * @param seconds time left; empty where too little is known to say
 * @param whole whether all that is needed is known; if not, it takes longer than {@code seconds}
 * @param running the steps under way, in the order of their statement
 * @since 0.1
 */
public record Outlook(
    int done, int known, OptionalDouble seconds, boolean whole, List<Running> running) {
  /** Nothing is known. */
  public static final Outlook NOTHING = new Outlook(0, 0, OptionalDouble.empty(), false, List.of());

  /** Copies the list. */
  public Outlook {
    running = List.copyOf(running);
  }

  /**
   * A step under way.
   *
   * @param address its address
   * @param operation id of the operation
   * @param share of it that is done, 0 to 1
   * @param seconds time left; empty where too little is known to say
   */
  public record Running(String address, String operation, double share, OptionalDouble seconds) {}

  /** The time left in words: {@code about 10 s left}; empty where nothing is known. */
  public String words() {
    return seconds.isEmpty()
        ? ""
        : (whole ? "about " : "more than ") + time(seconds.getAsDouble()) + " left";
  }

  /** A time as people say it: whole seconds, from ten on in fives, minutes, hours. */
  static String time(double seconds) {
    if (seconds < 10) {
      return Math.max(1, Math.round(seconds)) + " s";
    }
    if (seconds < 57.5) {
      return 5 * Math.round(seconds / 5) + " s";
    }
    long minutes = Math.max(1, Math.round(seconds / 60));
    return minutes < 90 ? minutes + " min" : Math.round(minutes / 60.0) + " h";
  }
}
