package org.slabnote.worker.store;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Sizes of files in words, and read back: {@code 4 GB}. Prefixes are decimal (SI, 9th edition, table
 * 7): 1 GB is 1,000,000,000 bytes.
 *
 * @since 0.1
 */
public final class ByteSize {
  private static final Pattern WORDS =
      Pattern.compile("(\\d{1,18})(?:\\.(\\d))? ?(B|kB|MB|GB|TB)?");
  private static final List<String> UNITS = List.of("B", "kB", "MB", "GB", "TB");

  private ByteSize() {}

  /**
   * Reads a size.
   *
   * @param text digits, at most one of them after a point, and a unit: {@code 500 MB}, {@code 1.5GB};
   *     {@code KB} counts as {@code kB}; bytes where there is no unit
   * @return bytes; nothing where it is no size
   */
  public static Optional<Long> parse(String text) {
    Matcher words = WORDS.matcher(text.strip().replace("KB", "kB"));
    if (!words.matches()) {
      return Optional.empty();
    }
    long unit = 1;
    String name = words.group(3);
    for (int i = UNITS.indexOf(name == null ? "B" : name); i > 0; i--) {
      unit *= 1000;
    }
    long whole = Long.parseLong(words.group(1));
    long tenths = words.group(2) == null ? 0 : Long.parseLong(words.group(2));
    return whole < Long.MAX_VALUE / unit
        ? Optional.of(whole * unit + tenths * unit / 10)
        : Optional.empty();
  }

  /** Words a size with one digit after the point, rounded to nearest: {@code 3.4 GB}; whole bytes below 1 kB. */
  public static String words(long bytes) {
    if (bytes < 1000) {
      return bytes + " B";
    }
    long unit = 1000;
    int name = 1;
    while (name < UNITS.size() - 1 && bytes >= unit * 1000 - unit / 20) {
      unit *= 1000;
      name++;
    }
    long tenths = (bytes / (unit / 100) + 5) / 10;
    String fraction = tenths % 10 == 0 ? "" : "." + tenths % 10;
    return String.format(Locale.ROOT, "%d%s %s", tenths / 10, fraction, UNITS.get(name));
  }
}
