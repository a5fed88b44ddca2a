package org.slabnote.api;

import java.util.List;
import org.slabnote.api.quantity.Length;

/**
 * What could have been seen, where, and what could not.
 *
 * @param sights one per scan
 * @param unseen what could not be seen, place by place
 * @since 0.1
 */
@Trial
public record Visibility(List<Sight> sights, List<Unseen> unseen) {

  /** Copies the lists. */
  public Visibility {
    sights = List.copyOf(sights);
    unseen = List.copyOf(unseen);
  }

  /**
   * How far down one scan could see.
   *
   * @param pass name of the pass
   * @param channel label of the channel
   * @param start first trace
   * @param end last trace
   * @param reach depth down to which a metal bar of {@code smallest} would have stood out
   * @param smallest diameter of the smallest metal bar that would have stood out at {@code reach}
   * @param halfWidth distance to each side of the pass line within which it would have been seen
   * @param basis what the figures rest on, in words
   * @since 0.1
   */
  public record Sight(
      String pass,
      String channel,
      Point start,
      Point end,
      Length reach,
      Length smallest,
      Length halfWidth,
      String basis) {}

  /**
   * A part of the slab that could not be seen: a box on plan from {@code from} to {@code to}, below
   * {@code below}.
   *
   * @param from one corner on plan
   * @param to the opposite corner
   * @param below depth below which nothing was seen
   * @param why in words: not scanned, too deep for the signal, in the shadow of a bar
   * @since 0.1
   */
  public record Unseen(Point from, Point to, Length below, String why) {}
}
