package org.slabnote.formats.segy;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every prefix, every header field at its ends, and seeded corruption of good files. */
class SegyDamageTest {
  static List<String> files() {
    return Damage.goodFiles();
  }

  /**
   * A prefix is read only where it ends with a whole trace and the file states no number of traces, as
   * revisions 0 and 1 cannot.
   */
  @ParameterizedTest
  @MethodSource("files")
  void everyPrefixIsRefusedUnlessItEndsWithAWholeTrace(String name) {
    byte[] good = Csv.resource(name);
    SegyFile whole = SegyFile.of(name, good);
    for (int length = 0; length < good.length; length++) {
      boolean atEndOfTrace = length >= 3600 && endsTrace(whole, length);
      boolean mayRead = atEndOfTrace && whole.revision().major() < 2;
      assertThat(Damage.reads(name, Arrays.copyOf(good, length)))
          .as("%s cut after %d", name, length)
          .isEqualTo(mayRead);
    }
  }

  private static boolean endsTrace(SegyFile file, int length) {
    for (int i = 0; i < file.traceCount(); i++) {
      if (file.trace(i).byteOffset() == length) {
        return true;
      }
    }
    return false;
  }

  @ParameterizedTest
  @MethodSource("files")
  void everyFieldAtItsEndsIsReadOrRefused(String name) {
    byte[] good = Csv.resource(name);
    SegyFile whole = SegyFile.of(name, good);
    int tried = 0;
    for (SegyField field : SegyField.values()) {
      for (long value : new long[] {0, -1, Long.MAX_VALUE, Long.MIN_VALUE, 1}) {
        if (field.place() == SegyField.Place.FILE) {
          Damage.reads(
              name, with(good, 3200, field, value, field.position() - 3200, whole.byteOrder()));
          tried++;
        } else if (field.place() == SegyField.Place.TRACE) {
          for (int t : new int[] {0, whole.traceCount() - 1}) {
            int at = (int) whole.trace(t).byteOffset();
            Damage.reads(name, with(good, at, field, value, field.position(), whole.byteOrder()));
            tried++;
          }
        }
      }
    }
    assertThat(tried).isGreaterThan(900);
  }

  private static byte[] with(
      byte[] good, int header, SegyField field, long value, int position, ByteOrder order) {
    byte[] bad = good.clone();
    ByteBuffer out = ByteBuffer.wrap(bad).order(order);
    int at = header + position - 1;
    // The greatest and the least number of the field's own width.
    switch (field.type().bytes()) {
      case 1 -> out.put(at, (byte) (value >> (Math.abs(value) > 1 ? 56 : 0)));
      case 2 -> out.putShort(at, (short) (value >> (Math.abs(value) > 1 ? 48 : 0)));
      case 4 -> out.putInt(at, (int) (value >> (Math.abs(value) > 1 ? 32 : 0)));
      default -> out.putLong(at, value);
    }
    return bad;
  }

  /** Seeded: the same damage on every run. */
  @Test
  void corruptionIsReadOrRefusedNeverAnythingElse() {
    int refused = 0;
    int rounds = 30_000;
    List<byte[]> good = files().stream().map(Csv::resource).toList();
    Random random = new Random(20170301);
    for (int round = 0; round < rounds; round++) {
      byte[] bad = Corruption.of(good.get(round % good.size()), random);
      if (!Damage.reads("round " + round, bad)) {
        refused++;
      }
    }
    assertThat(refused).isBetween(rounds / 5, rounds - rounds / 20);
  }

  @Test
  void manyTracesTakeNoMoreThanTheirShare() {
    // 100,000 one-sample traces: time and memory follow the file's length.
    byte[] head = SegyBuild.revision(1, 0).set(SegyField.SAMPLES, 1).bytes();
    byte[] all = Arrays.copyOf(head, 3600 + 100_000 * 242);
    assertThat(SegyFile.of("many", all).traceCount()).isEqualTo(100_000);
  }
}
