package org.slabnote.api;

import java.util.Arrays;

/**
 * An immutable row of {@code double} numbers.
 *
 * @since 0.1
 */
public final class Doubles {
  private final double[] values;

  private Doubles(double[] values) {
    this.values = values;
  }

  /** Returns a copy of {@code values}. */
  public static Doubles of(double... values) {
    return new Doubles(values.clone());
  }

  /** Returns how many numbers there are. */
  public int size() {
    return values.length;
  }

  /** Returns number {@code i}, from 0. */
  public double get(int i) {
    return values[i];
  }

  /** Returns a copy of the numbers {@code from} up to, not including, {@code to}. */
  public double[] copy(int from, int to) {
    return Arrays.copyOfRange(values, from, to);
  }

  /** Returns a copy of all numbers. */
  public double[] toArray() {
    return values.clone();
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Doubles s && Arrays.equals(values, s.values);
  }

  @Override
  public int hashCode() {
    return Arrays.hashCode(values);
  }

  @Override
  public String toString() {
    return values.length + " numbers";
  }
}
