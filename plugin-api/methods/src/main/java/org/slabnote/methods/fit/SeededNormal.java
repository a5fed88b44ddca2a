package org.slabnote.methods.fit;

import java.util.SplittableRandom;

/**
 * Normal numbers from a seed: the same ones on every machine.
 *
 * <p>Marsaglia's polar method on {@link SplittableRandom}, whose sequence the Java API fixes by its
 * algorithm, with {@code StrictMath.log}. Not shared among threads: give each part of the work its own
 * seed.
 *
 * <p>Source: Marsaglia and Bray 1964, SIAM Review 6(3), 260-264.
 *
 * @since 0.1
 */
public final class SeededNormal {
  private final SplittableRandom uniform;
  private double spare;
  private boolean hasSpare;

  /**
   * Starts a sequence.
   *
   * @param seed any number; equal seeds give equal sequences
   */
  public SeededNormal(long seed) {
    uniform = new SplittableRandom(seed);
  }

  /**
   * Next normal number with mean 0 and standard deviation 1.
   *
   * @return normal number
   */
  public double next() {
    if (hasSpare) {
      hasSpare = false;
      return spare;
    }
    while (true) {
      double a = 2 * uniform.nextDouble() - 1;
      double b = 2 * uniform.nextDouble() - 1;
      double s = a * a + b * b;
      if (s > 0 && s < 1) {
        double factor = Math.sqrt(-2 * StrictMath.log(s) / s);
        spare = b * factor;
        hasSpare = true;
        return a * factor;
      }
    }
  }

  /**
   * Next uniform number.
   *
   * @return at least 0, below 1
   */
  public double nextUniform() {
    return uniform.nextDouble();
  }
}
