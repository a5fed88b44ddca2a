package org.slabnote.demo;

import com.fasterxml.jackson.databind.MappingIterator;
import com.fasterxml.jackson.dataformat.csv.CsvMapper;
import com.fasterxml.jackson.dataformat.csv.CsvSchema;
import java.io.IOException;
import java.util.List;
import java.util.Map;

/** Tables as a spreadsheet reads them (RFC 4180), by a reader that is not the product's own. */
final class Csv {
  private Csv() {}

  /** The rows after the header line, each by column name. */
  static List<Map<String, String>> rows(String csv) {
    try (MappingIterator<Map<String, String>> rows = new CsvMapper()
        .readerForMapOf(String.class)
        .with(CsvSchema.emptySchema().withHeader())
        .readValues(csv)) {
      return rows.readAll();
    } catch (IOException e) {
      throw new AssertionError("not a CSV table: " + csv, e);
    }
  }
}
