package org.slabnote.api;

import org.slabnote.api.quantity.Length;

/**
 * A vertical image under one pass.
 *
 * <p>Values lie column by column: depth {@code j} under trace {@code i} at {@code i * depths + j}.
 *
 * @param pass name of the pass
 * @param channel label of the channel
 * @param track place of each column
 * @param top depth of the first value in each column
 * @param step depth step, above zero
 * @param depths number of values in each column
 * @param values {@code track.size() * depths} values; NaN where nobody could have seen
 * @param meaning what the values are, in words
 * @since 0.1
 */
public record Section(
    String pass,
    String channel,
    Track track,
    Length top,
    Length step,
    int depths,
    Samples values,
    String meaning) {

  /**
   * Checks the sizes.
   *
   * @throws IllegalArgumentException if the number of values is not columns times depths
   */
  public Section {
    if (step.value() <= 0 || depths < 1 || (long) track.size() * depths != values.size()) {
      throw new IllegalArgumentException(
          "section " + pass + ": " + values.size() + " values at a step of " + step + "; expected "
              + track.size() + " columns of " + depths + " at a step above 0");
    }
  }
}
