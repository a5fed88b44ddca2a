package org.slabnote.methods.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.nio.ByteBuffer;
import java.security.MessageDigest;
import java.util.HexFormat;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class FftTest {

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 16, 30, 97, 201, 211, 240, 256, 422, 1013})
  void meetsTheDefiningSumAndComesBack(int n) {
    double[] x = numbers(n);
    double[] bins = Fft.of(n).forwardReal(x);
    double[] full = new double[2 * n];
    for (int i = 0; i < n; i++) {
      full[2 * i] = x[i];
    }
    Fft.of(n).forward(full);
    for (int k = 0; k <= n / 2; k++) {
      double re = 0;
      double im = 0;
      for (int i = 0; i < n; i++) {
        double angle = -2 * Math.PI * ((long) i * k % n) / n;
        re += x[i] * StrictMath.cos(angle);
        im += x[i] * StrictMath.sin(angle);
      }
      assertThat(bins[2 * k]).isCloseTo(re, within(1e-11));
      assertThat(bins[2 * k + 1]).isCloseTo(im, within(1e-11));
      assertThat(full[2 * k]).isCloseTo(re, within(1e-11));
      assertThat(full[2 * k + 1]).isCloseTo(im, within(1e-11));
    }
    Fft.of(n).inverse(full);
    double[] back = Fft.of(n).inverseReal(bins);
    for (int i = 0; i < n; i++) {
      assertThat(back[i]).isCloseTo(x[i], within(1e-13));
      assertThat(full[2 * i]).isCloseTo(x[i], within(1e-13));
      assertThat(full[2 * i + 1]).isCloseTo(0, within(1e-13));
    }
  }

  /**
   * The library's tables come from Math.sin and Math.cos, whose bits the language does not promise.
   * These sums were the same on Java 17 and 25 (x86-64 Linux); where they are not, records made on two
   * machines would differ, and the library must be replaced.
   */
  @Test
  void givesTheCommittedBits() throws Exception {
    MessageDigest digest = MessageDigest.getInstance("SHA-256");
    for (int n : new int[] {240, 256, 1000, 1013, 1024, 4096, 6561, 16384}) {
      double[] bins = Fft.of(n).forwardReal(numbers(n));
      double[] back = Fft.of(n).inverseReal(bins);
      double[] full = numbers(2 * n);
      Fft.of(n).forward(full);
      for (double[] part : new double[][] {bins, back, full}) {
        ByteBuffer bytes = ByteBuffer.allocate(8 * part.length);
        bytes.asDoubleBuffer().put(part);
        digest.update(bytes);
      }
    }
    assertThat(HexFormat.of().formatHex(digest.digest()))
        .isEqualTo("b9b9b687b1a3764c8d8cdf009e2d97ec0e2feea2bc44c0779bce5285585e217e");
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 7, 11, 13, 240, 241, 511, 1013, 5000, 65537})
  void fastLengthIsTheNextSmoothNumber(int n) {
    int expected = n;
    while (!smooth(expected)) {
      expected++;
    }
    assertThat(Fft.fastLength(n)).isEqualTo(expected);
  }

  @Test
  void refusesWrongLengths() {
    assertThatThrownBy(() -> Fft.of(0))
        .hasMessage("Fourier transform: length = 0; expected 1 or more");
    assertThatThrownBy(() -> Fft.of(8).forwardReal(new double[7]))
        .hasMessage("Fourier transform of length 8: array of 7 values; expected 8");
  }

  private static boolean smooth(int n) {
    int rest = n;
    for (int prime : new int[] {2, 3, 5}) {
      while (rest % prime == 0) {
        rest /= prime;
      }
    }
    return rest == 1;
  }

  /** Values from a linear congruence, -1 to 1: the same everywhere. */
  private static double[] numbers(int n) {
    double[] x = new double[n];
    long state = 12345L + n;
    for (int i = 0; i < n; i++) {
      state = state * 6364136223846793005L + 1442695040888963407L;
      x[i] = (state >> 11) * 0x1.0p-52;
    }
    return x;
  }
}
