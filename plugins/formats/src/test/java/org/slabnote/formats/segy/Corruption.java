package org.slabnote.formats.segy;

import java.util.Arrays;
import java.util.Random;

/** Damage as it happens to files, and as a hostile hand would do it. */
final class Corruption {
  private static final int[] TELLING = {
    3212,
    3216,
    3220,
    3224,
    3268,
    3272,
    3296,
    3500,
    3502,
    3504,
    3506,
    3512,
    3520,
    3528,
    3600 + 114,
    3600 + 116,
    3600 + 70
  };

  private Corruption() {}

  static byte[] of(byte[] good, Random random) {
    byte[] bad = good.clone();
    int blows = 1 + random.nextInt(4);
    for (int i = 0; i < blows; i++) {
      bad = blow(bad, random);
    }
    return bad;
  }

  private static byte[] blow(byte[] bytes, Random random) {
    if (bytes.length < 8) {
      return bytes;
    }
    int at = random.nextInt(bytes.length);
    switch (random.nextInt(7)) {
      case 0 -> bytes[at] ^= (byte) (1 << random.nextInt(8));
      case 1 -> bytes[at] = (byte) random.nextInt();
      case 2 ->
        Arrays.fill(bytes, at, Math.min(bytes.length, at + random.nextInt(300)), (byte)
            (random.nextBoolean() ? 0 : -1));
      case 3 -> telling(bytes, random);
      case 4 -> {
        return Arrays.copyOf(bytes, random.nextInt(bytes.length + 600));
      }
      case 5 -> telling(bytes, random);
      default -> {
        int from = random.nextInt(bytes.length);
        int length = Math.min(random.nextInt(500), bytes.length - Math.max(from, at));
        System.arraycopy(bytes.clone(), from, bytes, at, length);
      }
    }
    return bytes;
  }

  /** Overwrites a field that steers the reader. */
  private static void telling(byte[] bytes, Random random) {
    int at = TELLING[random.nextInt(TELLING.length)];
    int width = 1 + random.nextInt(8);
    for (int i = at; i < Math.min(bytes.length, at + width); i++) {
      bytes[i] = (byte) (random.nextInt(3) == 0 ? random.nextInt() : random.nextInt(3) - 1);
    }
  }
}
