package org.slabnote.engine.plugin;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Versions of the plugin API: {@code major.minor}. A plugin made for one works with a later minor of
 * the same major; before 1.0 nothing is promised between minors, so these must be equal.
 */
final class ApiVersion {
  private static final Pattern VERSION = Pattern.compile("(\\d{1,6})\\.(\\d{1,6})(\\D.*)?");

  private ApiVersion() {}

  /**
   * Returns why a plugin that needs an API does not fit, in words; nothing where it does, or states
   * none.
   *
   * @param needed what the plugin states
   * @param here what there is
   */
  static Optional<String> unfit(String needed, String here) {
    Matcher there = VERSION.matcher(here);
    Matcher wanted = VERSION.matcher(needed);
    if (needed.isEmpty() || !there.matches()) {
      return Optional.empty();
    }
    String is = there.group(1) + "." + there.group(2);
    if (!wanted.matches()) {
      return Optional.of(
          JarFacts.API_ATTRIBUTE + " = " + needed + "; expected a version such as " + is);
    }
    boolean major = there.group(1).equals(wanted.group(1));
    int minor = Integer.parseInt(wanted.group(2)) - Integer.parseInt(there.group(2));
    boolean fits = major && (there.group(1).equals("0") ? minor == 0 : minor <= 0);
    return fits
        ? Optional.empty()
        : Optional.of(
            "it needs plugin API " + wanted.group(1) + "." + wanted.group(2) + "; this is " + is);
  }
}
