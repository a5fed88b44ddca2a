package org.slabnote.worker.store;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Prefixes are those of the SI, 9th edition, table 7: kilo is 1000. */
class ByteSizeTest {
  @ParameterizedTest
  @CsvSource({
    "0, 0",
    "999, 999",
    "12 B, 12",
    "1 kB, 1000",
    "1KB, 1000",
    "4 GB, 4000000000",
    "1.5 MB, 1500000",
    "2TB, 2000000000000",
    "2000000000000000 B, 2000000000000000",
    "' 10 MB ', 10000000"
  })
  void reads(String text, long bytes) {
    assertThat(ByteSize.parse(text)).hasValue(bytes);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "",
        "GB",
        "-1 GB",
        "4 gb",
        "4 GiB",
        "1.25 GB",
        "1e9",
        "4 GB more",
        "999999999999999 TB"
      })
  void refuses(String text) {
    assertThat(ByteSize.parse(text)).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({
    "0, 0 B",
    "999, 999 B",
    "1000, 1 kB",
    "1500, 1.5 kB",
    "999949, 999.9 kB",
    "999950, 1 MB",
    "4000000000, 4 GB",
    "3449999999, 3.4 GB",
    "1234567890123456, 1234.6 TB"
  })
  void words(long bytes, String text) {
    assertThat(ByteSize.words(bytes)).isEqualTo(text);
  }
}
