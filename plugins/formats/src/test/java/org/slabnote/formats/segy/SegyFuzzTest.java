package org.slabnote.formats.segy;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;

/**
 * Corruption for as long as the property {@code slabnote.fuzz.seconds} says; seeds count up from {@code
 * slabnote.fuzz.seed}, so that a failure names the seed that repeats it. Profile {@code fuzz}.
 */
@EnabledIfSystemProperty(named = "slabnote.fuzz.seconds", matches = "[0-9]+")
class SegyFuzzTest {
  @Test
  void readsOrRefuses() {
    List<byte[]> good = Damage.goodFiles().stream().map(Csv::resource).toList();
    long end = System.nanoTime() + 1_000_000_000L * Long.getLong("slabnote.fuzz.seconds");
    long seed = Long.getLong("slabnote.fuzz.seed", 1);
    long first = seed;
    while (System.nanoTime() < end) {
      Random random = new Random(seed);
      Damage.reads("seed " + seed, Corruption.of(good.get((int) (seed % good.size())), random));
      seed++;
    }
    assertThat(seed - first).isGreaterThan(1000);
  }
}
