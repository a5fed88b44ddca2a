package org.slabnote.desktop;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.slabnote.report.Radargram;

class RasterTest {
  /** Two traces of two samples: 0 100 and 200 40, 1 m apart, 1 ns apart. */
  private static final Radargram FOUR =
      new Radargram(2, 2, new byte[] {0, 100, (byte) 200, 40}, new double[] {0, 1}, 0, 1, false);

  private static int grey(int pixel) {
    assertThat(pixel >>> 24).isEqualTo(255);
    return pixel & 0xff;
  }

  @Test
  void betweenSamplesItInterpolates() {
    int[] pixel = new int[1];
    // one pixel centred at 0.5 m and 0.5 ns: the mean of all four, 85, by hand
    new Raster(FOUR).fill(pixel, 1, 1, 0.4, 0.6, 0.4, 0.6);
    assertThat(grey(pixel[0])).isEqualTo(85);
  }

  @Test
  void severalTracesInAPixelAreTakenTogether() {
    byte[] grey = new byte[300];
    for (int i = 0; i < 100; i++) {
      Arrays.fill(grey, 3 * i, 3 * i + 3, (byte) (i % 2 == 0 ? 0 : 100));
    }
    double[] distances = new double[100];
    Arrays.setAll(distances, i -> 0.01 * i);
    int[] pixels = new int[10];
    new Raster(new Radargram(100, 3, grey, distances, 0, 1, false))
        .fill(pixels, 10, 1, 0, 0.99, 0, 2);
    for (int pixel : pixels) {
      assertThat(grey(pixel)).isBetween(44, 56);
    }
  }

  @Test
  void unevenTracesLieWhereTheyWereTaken() {
    Radargram uneven =
        new Radargram(3, 1, new byte[] {0, 100, (byte) 200}, new double[] {0, 0.1, 1}, 0, 1, false);
    assertThat(new Raster(uneven).trace(0.05)).isEqualTo(0.5);
    assertThat(new Raster(uneven).trace(0.55))
        .isCloseTo(1.5, org.assertj.core.api.Assertions.within(1e-12));
    assertThat(new Raster(uneven).trace(2)).isEqualTo(2);
  }

  @Test
  void outsideThePassNothingIsDrawn() {
    int[] pixels = new int[3];
    new Raster(FOUR).fill(pixels, 3, 1, -1, 2, 0, 1);
    assertThat(pixels[0]).isEqualTo(pixels[2]);
    assertThat(pixels[0]).isNotEqualTo(pixels[1]);
  }
}
