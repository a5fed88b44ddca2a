package org.slabnote.api.codec;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.fail;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.slabnote.api.Amplitudes;
import org.slabnote.api.Doubles;
import org.slabnote.api.Samples;
import org.slabnote.api.TargetClass;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;

class CanonicalTest {

  /** One of each kind. */
  record Everything(
      String text,
      boolean flag,
      int count,
      long large,
      double number,
      Amplitudes constant,
      Samples samples,
      Doubles doubles,
      Optional<Length> there,
      Optional<Length> none,
      List<Measured<Length>> list,
      Map<TargetClass, Double> classes) {}

  record Picky(int positive) {
    Picky {
      if (positive < 1) {
        throw new IllegalArgumentException("positive = " + positive + "; expected 1 or more");
      }
    }
  }

  record Holder(Object thing) {}

  private static Everything everything() {
    return new Everything(
        "Bär \u2126 \uD83D\uDE00",
        true,
        -7,
        Long.MIN_VALUE,
        -0.0,
        Amplitudes.SAME_LINEAR,
        Samples.of(1f, Float.NaN, -0f, Float.MIN_VALUE),
        Doubles.of(0.1, Double.NaN, Double.POSITIVE_INFINITY),
        Optional.of(new Length(0.016)),
        Optional.empty(),
        List.of(
            Measured.of(new Length(0.06), "a#fit", new Length(0.001)),
            Measured.exact(new Length(1))),
        new TreeMap<>(Map.of(TargetClass.METAL, 0.75, TargetClass.PLANE, 0.25)));
  }

  private static Object decode(byte[] bytes) {
    return Canonical.decode(bytes, CanonicalTest.class.getClassLoader());
  }

  @Test
  void everyKindComesBack() {
    byte[] bytes = Canonical.encode(everything());
    Object back = decode(bytes);
    assertThat(back).isEqualTo(everything());
    assertThat(Canonical.encode(back)).isEqualTo(bytes);
    assertThat(Canonical.digest(back))
        .isEqualTo(Canonical.digest(everything()))
        .matches("[0-9a-f]{64}");
  }

  /** The layout of docs: tag, length first, big-endian. Changing it makes every stored value unreadable. */
  @Test
  void keepsItsLayout() {
    assertThat(Canonical.encode("ab")).isEqualTo(new byte[] {'S', 0, 0, 0, 2, 'a', 'b'});
    assertThat(Canonical.encode(258)).isEqualTo(new byte[] {'I', 0, 0, 1, 2});
    assertThat(Canonical.encode(List.of(true))).isEqualTo(new byte[] {'L', 0, 0, 0, 1, 'B', 1});
    assertThat(Canonical.encode(Samples.of(1f)))
        .isEqualTo(new byte[] {'F', 0, 0, 0, 1, 0x3f, (byte) 0x80, 0, 0});
  }

  /** SHA-256 of "abc": FIPS 180-4, example. */
  @Test
  void digestsBySha256() {
    assertThat(Canonical.sha256("abc".getBytes(StandardCharsets.US_ASCII)))
        .isEqualTo("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  }

  @Test
  void oneNanTwoZeros() {
    double otherNan = Double.longBitsToDouble(0x7ff8000000000abcL);
    assertThat(Canonical.encode(otherNan)).isEqualTo(Canonical.encode(Double.NaN));
    assertThat(Canonical.encode(Samples.of(Float.intBitsToFloat(0x7fc00abc))))
        .isEqualTo(Canonical.encode(Samples.of(Float.NaN)));
    assertThat(Canonical.encode(-0.0)).isNotEqualTo(Canonical.encode(0.0));
  }

  @Test
  void refusesWhatHasNoOrder() {
    assertThatThrownBy(() -> Canonical.encode(new Holder(List.of(new HashMap<>()))))
        .hasMessage(
            "Holder.thing[0]: a java.util.HashMap has no canonical form; expected records, enums,"
                + " text, numbers, Samples, Doubles, Optional, lists, sorted maps");
    assertThatThrownBy(() ->
            Canonical.encode(new Holder(new TreeMap<String, String>(Collections.reverseOrder()))))
        .hasMessageStartingWith("Holder.thing: a java.util.TreeMap has no canonical form");
    assertThatThrownBy(() -> Canonical.encode(new Holder(new double[1])))
        .hasMessageStartingWith("Holder.thing: a [D has no canonical form");
  }

  @Test
  void recordsPassThroughTheirConstructors() {
    byte[] bytes = Canonical.encode(new Picky(1));
    bytes[bytes.length - 1] = 0;
    assertThatThrownBy(() -> decode(bytes))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("encoded value of record " + Picky.class.getName() + " is refused by it:"
            + " positive = 0; expected 1 or more");
  }

  @Test
  void everyPrefixIsRefused() {
    byte[] whole = Canonical.encode(everything());
    for (int n = 0; n < whole.length; n++) {
      byte[] cut = Arrays.copyOf(whole, n);
      assertThatThrownBy(() -> decode(cut))
          .as("the first %d of %d bytes", n, whole.length)
          .isInstanceOf(IllegalArgumentException.class);
    }
    assertThatThrownBy(() -> decode(Arrays.copyOf(whole, whole.length + 1)))
        .hasMessage("encoded value of " + (whole.length + 1) + " bytes goes on after its end");
  }

  /** Any one bit turned: refused, or another value; never another exception, never the same value. */
  @Test
  @Timeout(60)
  void aTurnedBitIsSeen() {
    Everything value = everything();
    byte[] whole = Canonical.encode(value);
    for (int at = 0; at < 8 * whole.length; at++) {
      byte[] bad = whole.clone();
      bad[at / 8] ^= (byte) (1 << at % 8);
      try {
        assertThat(Canonical.encode(decode(bad))).as("bit " + at).isNotEqualTo(whole);
      } catch (IllegalArgumentException e) {
        assertThat(e.getMessage()).as("bit " + at).isNotBlank();
      } catch (RuntimeException | Error e) {
        fail("bit " + at + " of byte " + at / 8 + " gives " + e, e);
      }
    }
  }

  @Test
  void mapsHaveEachKeyOnceAndRising() {
    for (String keys : List.of("ba", "aa")) {
      byte[] bytes = {
        'M',
        0,
        0,
        0,
        2,
        'S',
        0,
        0,
        0,
        1,
        (byte) keys.charAt(0),
        'B',
        1,
        'S',
        0,
        0,
        0,
        1,
        (byte) keys.charAt(1),
        'B',
        1
      };
      assertThatThrownBy(() -> decode(bytes))
          .hasMessage("encoded map with key a out of order; expected each key once, rising");
    }
  }

  @Test
  void absurdSizesAreNotAllocated() {
    byte[] huge = {'F', 0x3f, -1, -1, -1, 0, 0, 0, 0};
    assertThatThrownBy(() -> decode(huge))
        .hasMessageStartingWith(
            "encoded value states 1073741823 items of 4 bytes; 4 bytes are left");
    byte[] negative = {'L', -1, -1, -1, -1};
    assertThatThrownBy(() -> decode(negative)).isInstanceOf(IllegalArgumentException.class);
  }
}
