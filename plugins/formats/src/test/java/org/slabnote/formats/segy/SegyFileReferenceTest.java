package org.slabnote.formats.segy;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every header field and every sample of the reference files; their origin is in README.md there. */
class SegyFileReferenceTest {
  static Stream<Map<String, String>> files() {
    return Csv.rows("files.csv").stream();
  }

  @Test
  void tenFilesAreThere() {
    assertThat(files()).hasSize(10);
  }

  @ParameterizedTest
  @MethodSource("files")
  void fileReadsAsItsRowSays(Map<String, String> row) {
    SegyFile file = open(row.get("file"));
    assertThat(file.sample().code()).isEqualTo(Integer.parseInt(row.get("format_code_1")));
    assertThat(file.byteOrder())
        .isEqualTo(
            row.get("byte_order").equals("big") ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN);
    assertThat(file.revision().major())
        .isEqualTo(Integer.parseInt(row.get("revision").substring(0, 1)));
    assertThat(file.text().encoding()).hasToString(row.get("text_encoding"));
    assertThat(file.extendedTexts()).hasSize(integer(row, "extended_text_headers_count"));
    assertThat(file.traceCount()).isEqualTo(integer(row, "traces_count"));
    assertThat(file.header().get(SegyField.INTERVAL))
        .isEqualTo(integer(row, "interval_field_bytes_3217_raw_1"));
    if (!row.get("extended_interval_bytes_3273_us").isEmpty()) {
      assertThat(file.header().getReal(SegyField.WIDE_INTERVAL))
          .isEqualTo(Double.parseDouble(row.get("extended_interval_bytes_3273_us")));
    }
    assertThat(file.trace(0).sourceX())
        .isEqualTo(Double.parseDouble(row.get("first_source_x_scaled_m")));
    assertThat(file.trace(file.traceCount() - 1).groupX())
        .isEqualTo(Double.parseDouble(row.get("last_receiver_x_scaled_m")));
    assertThat(file.remarks()).isEmpty();
  }

  @ParameterizedTest
  @MethodSource("files")
  void samplesAreExact(Map<String, String> row) {
    SegyFile file = open(row.get("file"));
    List<Map<String, String>> table = Csv.rows(row.get("file").replace(".sgy", "_samples.csv"));
    for (int t = 0; t < file.traceCount(); t++) {
      String column = "trace" + (t + 1) + "_file_units";
      double[] expected = table.stream()
          .map(cells -> cells.get(column))
          .filter(cell -> !cell.isEmpty())
          .mapToDouble(Double::parseDouble)
          .toArray();
      // Compared by bits, so that -0.0 is not 0.0.
      double[] samples = file.trace(t).samples();
      assertThat(Arrays.stream(samples).mapToLong(Double::doubleToRawLongBits).toArray())
          .as("%s, trace %d", file.name(), t + 1)
          .isEqualTo(
              Arrays.stream(expected).mapToLong(Double::doubleToRawLongBits).toArray());
      assertThat(file.trace(t).sampleCount()).isEqualTo(expected.length);
    }
  }

  @Test
  void headerFieldsAreAsListed() {
    List<Map<String, String>> rows = Csv.rows("headers.csv");
    for (Map<String, String> row : rows) {
      SegyFile file = open(row.get("file"));
      String block = row.get("block");
      int position = integer(row, "byte_position_1based_1");
      String value = row.get("value_file_units");
      String what = row.toString();
      if (block.equals("text")) {
        assertThat(file.text().lines().get(position / 80)).as(what).isEqualTo(value);
      } else {
        SegyHeader header = block.equals("binary")
            ? file.header()
            : file.trace(Integer.parseInt(block.substring("trace_".length())) - 1)
                .header();
        assertThat(header.getReal(field(position))).as(what).isEqualTo(Double.parseDouble(value));
      }
    }
    assertThat(rows).hasSize(619);
  }

  private static SegyField field(int position) {
    return Arrays.stream(SegyField.values())
        .filter(field -> field.place() != SegyField.Place.EXTENSION && field.position() == position)
        .findFirst()
        .orElseThrow();
  }

  private static int integer(Map<String, String> row, String column) {
    return Integer.parseInt(row.get(column));
  }

  private static SegyFile open(String name) {
    return SegyFile.of(name, Csv.resource(name));
  }
}
