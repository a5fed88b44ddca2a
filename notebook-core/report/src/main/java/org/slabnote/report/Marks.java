package org.slabnote.report;

import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Verdict;

/**
 * Colours and letters of the legend. Letters stand beside colours everywhere, so that a report in
 * black and white says the same. There is no green: nothing here permits a cut.
 *
 * @since 0.1
 */
public final class Marks {
  /** Ink of text and axes. */
  public static final String INK = "#22303c";
  /** Thin lines and quiet text. */
  public static final String QUIET = "#6b7a88";
  /** What could not be seen. */
  public static final String UNSEEN = "#b9a48a";
  /** Something that infringes. */
  public static final String ALARM = "#b3261e";

  private Marks() {}

  /** Returns the colour of a class; of no class: grey. */
  public static String colour(Target target) {
    TargetClass kind = target.likeliest().orElse(null);
    if (kind == null) {
      return "#5f6368";
    }
    return switch (kind) {
      case METAL -> "#9a4a12";
      case NON_METAL -> "#5b3a8c";
      case PLANE -> "#1f5f7a";
    };
  }

  /** Returns the letter of a class: M metal, N non-metal, P plane, ? not classified. */
  public static String letter(Target target) {
    TargetClass kind = target.likeliest().orElse(null);
    if (kind == null) {
      return "?";
    }
    return switch (kind) {
      case METAL -> "M";
      case NON_METAL -> "N";
      case PLANE -> "P";
    };
  }

  /** Returns the colour of a verdict. */
  public static String colour(Verdict verdict) {
    return switch (verdict) {
      case INFRINGES -> ALARM;
      case NOT_RESOLVED -> "#a35c00";
      case NOT_SEEN -> "#6d5a3f";
      case NOTHING_DETECTED_WITHIN -> INK;
    };
  }
}
