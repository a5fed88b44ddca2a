package org.slabnote.formats.segy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.slabnote.formats.SharedReference;

/**
 * Files from the test folders of two open seismic libraries (segyio, obspy; LGPL-3.0, so they are read
 * where they lie and not kept here). Expected values: {@code opendata/expected.csv}, from a decoder made
 * for it and a second reader.
 */
class OpenDataReferenceTest {
  @TestFactory
  Stream<DynamicTest> filesReadAsExpected() throws IOException {
    Optional<Path> folder = SharedReference.find("opendata");
    assumeTrue(folder.isPresent(), "no shared reference folder beside the repository");
    List<Map<String, String>> rows =
        Csv.rows(Files.readAllLines(folder.get().resolve("expected.csv"))).stream()
            .filter(row -> row.get("format").equals("SEG-Y"))
            .toList();
    assertThat(rows).hasSizeGreaterThan(10);
    return rows.stream()
        .map(row -> DynamicTest.dynamicTest(row.get("file"), () -> check(folder.get(), row)));
  }

  @Test
  void stanzasAreNamedInTheEncodingOfEach() {
    Optional<Path> path = SharedReference.find("opendata/segy/stanzas-known-count.sgy");
    assumeTrue(path.isPresent(), "no shared reference folder beside the repository");
    SegyFile file = SegyFile.of("stanzas-known-count.sgy", SharedReference.bytes(path.get()));
    assertThat(file.stanzas())
        .extracting(SegyStanza::name)
        .containsExactly(
            "SEGYIO:TEST ASCII  DATA WITH CONTENTTYPE AND BYTES:"
                + " application/vnd.openxmlformats-officedocument.wordprocessingml.document.glossary+xml:666",
            "SEGYIO:Test EBCDIC data",
            "SEGYIO: test ASCII data");
  }

  private static void check(Path folder, Map<String, String> row) {
    SegyFile file =
        SegyFile.of(row.get("file"), SharedReference.bytes(folder.resolve(row.get("file"))));
    assertThat(file.byteOrder())
        .isEqualTo(
            row.get("byte_order").equals("big") ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN);
    if (!row.get("text_encoding").startsWith("mostly")) {
      assertThat(file.text().encoding()).hasToString(row.get("text_encoding"));
    }
    assertThat(file.sample().code()).isEqualTo(integer(row, "sample_code"));
    assertThat(file.extendedTexts()).hasSize(integer(row, "ext_text_headers"));
    assertThat(file.traceCount()).isEqualTo(integer(row, "n_traces"));
    assertThat((int) (short) file.header().get(SegyField.INTERVAL))
        .isEqualTo(integer(row, "binary_header_interval"));
    if (file.traceCount() == 0) {
      return;
    }
    assertThat(file.commonSampleCount()).hasValue(integer(row, "n_samples"));
    assertThat(file.trace(0).extensions()).hasSize(integer(row, "extra_trace_headers"));
    assertThat(file.trace(0).header().get(SegyField.TRACE_INTERVAL))
        .isEqualTo(integer(row, "trace_header_interval"));
    samples(file, row);
  }

  private static void samples(SegyFile file, Map<String, String> row) {
    double[] first = file.trace(0).samples();
    double[] last = file.trace(file.traceCount() - 1).samples();
    double[] five = numbers(row, "first5_of_first_trace");
    double[] three = numbers(row, "first3_of_last_trace");
    assertThat(Arrays.copyOf(first, five.length)).containsExactly(five);
    assertThat(Arrays.copyOf(last, three.length)).containsExactly(three);
    int probe = integer(row, "probe_sample_index0");
    double[] around = numbers(row, "probe5");
    double[] trace = file.trace(integer(row, "probe_trace_index0")).samples();
    assertThat(Arrays.copyOfRange(trace, probe, probe + around.length)).containsExactly(around);
    double[] all = Stream.iterate(0, i -> i < file.traceCount(), i -> i + 1)
        .flatMapToDouble(i -> DoubleStream.of(file.trace(i).samples()))
        .toArray();
    assertThat(Arrays.stream(all).min().orElseThrow())
        .isEqualTo(Double.parseDouble(row.get("min")));
    assertThat(Arrays.stream(all).max().orElseThrow())
        .isEqualTo(Double.parseDouble(row.get("max")));
    // The order of the sum is not stated: agreement to rounding.
    double sum = Double.parseDouble(row.get("sum"));
    double size = Arrays.stream(all).map(Math::abs).sum();
    assertThat(Math.abs(Arrays.stream(all).sum() - sum)).isLessThanOrEqualTo(1e-12 * size);
  }

  private static double[] numbers(Map<String, String> row, String column) {
    return Arrays.stream(row.get(column).split(" "))
        .mapToDouble(Double::parseDouble)
        .toArray();
  }

  private static int integer(Map<String, String> row, String column) {
    return Integer.parseInt(row.get(column));
  }
}
