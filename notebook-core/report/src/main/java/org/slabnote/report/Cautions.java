package org.slabnote.report;

import java.util.List;

/**
 * The usual cautions, one idea each (common practice, in our own words).
 *
 * @since 0.1
 */
public final class Cautions {
  /** What stands beside every conclusion. */
  public static final String FIRST =
      "Radar never proves absence. These are interpretations with the uncertainty stated, not a permission: whether and where to cut is for the engineer "
          + "of record and those who are licensed to decide it, under the local codes. Treat what could not be seen as unknown.";

  private Cautions() {}

  /** Returns the cautions in order. */
  public static List<String> all() {
    return List.of(
        "A radar scan is interpreted; what is reported is an opinion with a stated uncertainty and no guarantee.",
        "Where no target is marked, none was detected. It may still be there: plastic, empty, thin, deep or stacked items, and items in the shadow of "
            + "others, can be missed.",
        "Only the ground that was scanned is covered, down to the depth stated for it. Nothing is inferred beyond the last pass.",
        "Depths rest on the wave velocity found here. Moisture, toppings and age change it from place to place.",
        "What a target is made of is told as a probability. Where it matters, take the worse reading.",
        "Radar does not tell a live circuit from a dead one. Ask the owner's qualified person before work begins, and isolate.",
        "Nothing is seen beneath a metal deck, plate or foil, and little beneath dense mesh.",
        "Marks fade and conditions change: this reading holds for the day of the scan and the marks as documented.",
        "Whether to cut, move, shore, de-tension or accept damage is for the engineer of record and, for post-tensioned slabs, the specialist. "
            + "Local codes and licensed practice come before anything written here.");
  }
}
