package org.slabnote.demo;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class WordsTest {
  @ParameterizedTest
  @ValueSource(
      strings = {
        "C1 is safe.",
        "C1: clear to drill",
        "All clear at C1",
        "The core is approved",
        "C1 may be drilled",
        "no reinforcement present",
        "OK to core"
      })
  void seesLeaveToCut(String text) {
    assertThat(Words.ofPermission(text)).isNotEmpty();
  }

  @Test
  void leavesWhatWasSeenAlone() {
    assertThat(Words.ofPermission(
            "C1: nothing detected within 30 mm down to 90 mm; smallest detectable metal bar there "
                + "11 mm; not seen: below 90 mm. Clearance is for the engineer of record; a clear "
                + "echo; not a permission"))
        .isEmpty();
  }
}
