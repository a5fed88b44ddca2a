package org.slabnote.engine.run;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.slabnote.engine.job.CutsTable;
import org.slabnote.engine.job.SurveyTable;

/** A small job for tests: two passes, read by the probe plugin. */
final class JobFixture {
  static final String NOTEBOOK = """
      # A slab

      ```java clean
      var across = scans(ACROSS).then(new Scale(ratio(2)));
      ```

      ```csv hand-picks
      pass,distance_m,time_ns
      E01,0.1,1.5
      ```

      ```java levels
      var levels = across.each(s -> new Level(s));
      var first = levels.of("E01");
      if (first.get().value().value() > 0) {
        show(across.of("E01"));
      }
      table("levels", run(new Levels(levels)));
      ```

      ```java conclusions
      conclude(each(cuts(), Cut::name, c -> new Judge(first, c)));
      ```
      """;

  private JobFixture() {}

  static Path write(Path folder, String notebook) throws IOException {
    Files.createDirectories(folder.resolve("scans"));
    Files.writeString(folder.resolve("scans/E01.txt"), "probe 3\n1 2 3\n4 5 6\n");
    Files.writeString(folder.resolve("scans/E02.txt"), "probe 3\n-1 -2 -3\n-4 -5 -6\n");
    Files.writeString(
        folder.resolve("job.toml"),
        "title = \"A slab\"\n[required_clearance]\nmetal = \"50 mm\"\n");
    Files.writeString(
        folder.resolve("survey.csv"),
        String.join(",", SurveyTable.COLUMNS)
            + "\nE01,a,E01.txt,90,90,0,0.1,1,0.1,0.05,0.06,2000\n"
            + "E02,a,E02.txt,90,90,0,0.2,1,0.2,0.05,0.06,2000\n");
    Files.writeString(
        folder.resolve("cuts.csv"),
        String.join(",", CutsTable.COLUMNS) + "\nC1,core,0.5,0.15,,,0.1,0.2,\n");
    Files.writeString(folder.resolve("interpretation.md"), notebook);
    return folder;
  }

  static List<String> names(Path folder) throws IOException {
    try (var files = Files.list(folder)) {
      return files.map(path -> path.getFileName().toString()).sorted().toList();
    }
  }
}
