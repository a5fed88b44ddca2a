package org.slabnote.demo;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Words that would read as leave to cut. Radar never proves absence, and nothing here may say so. */
final class Words {
  private static final Pattern PERMISSION = Pattern.compile(
      "\\b(safe|safely|clear (to|of|for)|all clear|cleared|approved?|approval|permitted|may be (cut|drilled)"
          + "|can be (cut|drilled)|ok(ay)? to|good to go|go ahead|free of (targets|steel|reinforcement)"
          + "|no (targets|reinforcement|obstructions?) (present|exist)|risk[- ]free|guaranteed?)\\b");

  private Words() {}

  /** The words of permission in a text; none where it keeps to what was seen. */
  static List<String> ofPermission(String text) {
    List<String> found = new ArrayList<>();
    Matcher matcher = PERMISSION.matcher(text.toLowerCase(Locale.ROOT));
    while (matcher.find()) {
      found.add(matcher.group());
    }
    return found;
  }
}
