package org.slabnote.engine.run;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.slabnote.api.Plugin;

class ToolboxTest {
  @Test
  void findsThePluginsAndWhatCellsMaySee() {
    Toolbox toolbox = Toolbox.find();
    assertThat(toolbox.plugins()).extracting(Plugin::id).contains("probe");
    assertThat(toolbox.problems()).isEmpty();
    assertThat(toolbox.exportedPackages()).contains("org.slabnote.probe");
    assertThat(toolbox.imports()).contains("org.slabnote.probe.*", "java.util.*");
    assertThat(toolbox.cellPath())
        .noneMatch(path -> path.toString().contains("worker"))
        .anyMatch(path -> path.toString().contains("commons-math3"));
    assertThat(toolbox.compileDigest()).isEqualTo(Toolbox.find().compileDigest());
  }
}
