package org.slabnote.api;

import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.api.quantity.Units;

/**
 * Evenly spaced sample times: {@code start + i interval}.
 *
 * @param start time of sample 0
 * @param interval time between samples, above zero
 * @param count number of samples, one or more
 * @since 0.1
 */
public record TimeAxis(TimeSpan start, TimeSpan interval, int count) {

  /**
   * Checks the ranges.
   *
   * @throws IllegalArgumentException if the interval is not positive or there is no sample
   */
  public TimeAxis {
    if (interval.value() <= 0 || count < 1) {
      throw new IllegalArgumentException(
          "time axis of " + count + " samples at " + Units.plain(interval.value(), 6)
              + " ns; expected one sample or more at an interval above 0 ns");
    }
  }

  /** Returns the time of sample {@code i}, which may be a fraction or lie outside. */
  public TimeSpan at(double i) {
    return new TimeSpan(start.value() + i * interval.value());
  }

  /** Returns the fractional sample index of a time, which may lie outside. */
  public double index(TimeSpan time) {
    return (time.value() - start.value()) / interval.value();
  }

  /** Returns the time of the last sample. */
  public TimeSpan end() {
    return at(count - 1);
  }
}
