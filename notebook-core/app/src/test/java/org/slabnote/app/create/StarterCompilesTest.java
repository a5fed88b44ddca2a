package org.slabnote.app.create;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.slabnote.app.Slab;
import org.slabnote.engine.run.JobRunner;

/** Every starter notebook compiles and is let through by the gate, as the engine has them. */
class StarterCompilesTest {
  @ParameterizedTest(name = "{0}")
  @MethodSource("org.slabnote.app.create.StarterNotebookTest#surveys")
  void compilesAndMayRun(String name, String table, String cuts, @TempDir Path folder)
      throws Exception {
    Path survey = Slab.survey(folder, table);
    Optional<Path> planned = cuts.isEmpty()
        ? Optional.empty()
        : Optional.of(Files.writeString(folder.resolve("cores.csv"), cuts));
    Path job = folder.resolve("job");
    new NewJob(job, survey, planned, Optional.empty()).make(stage -> {});
    JobRunner runner = JobRunner.of(job, folder.resolve("cache"), 1);
    assertThat(runner.check(Files.readString(job.resolve("interpretation.md")))).isEmpty();
  }
}
