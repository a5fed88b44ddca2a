package org.slabnote.api;

import java.util.Arrays;

/**
 * An immutable row of {@code float} numbers.
 *
 * @since 0.1
 */
public final class Samples {
  private final float[] values;

  private Samples(float[] values) {
    this.values = values;
  }

  /** Returns a copy of {@code values}. */
  public static Samples of(float... values) {
    return new Samples(values.clone());
  }

  /** Returns the traces one after another; they may differ in length. */
  public static Samples ofTraces(float[][] traces) {
    int n = 0;
    for (float[] trace : traces) {
      n += trace.length;
    }
    float[] all = new float[n];
    int at = 0;
    for (float[] trace : traces) {
      System.arraycopy(trace, 0, all, at, trace.length);
      at += trace.length;
    }
    return new Samples(all);
  }

  /** Returns how many numbers there are. */
  public int size() {
    return values.length;
  }

  /** Returns number {@code i}, from 0. */
  public float get(int i) {
    return values[i];
  }

  /** Returns a copy of the numbers {@code from} up to, not including, {@code to}. */
  public float[] copy(int from, int to) {
    return Arrays.copyOfRange(values, from, to);
  }

  /** Returns a copy of all numbers. */
  public float[] toArray() {
    return values.clone();
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Samples s && Arrays.equals(values, s.values);
  }

  @Override
  public int hashCode() {
    return Arrays.hashCode(values);
  }

  @Override
  public String toString() {
    return values.length + " samples";
  }
}
