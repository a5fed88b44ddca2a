package org.slabnote.desktop;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.engine.problem.BadInput;

class NotebookFileTest {
  @TempDir
  Path job;

  private Path path() {
    return job.resolve("interpretation.md");
  }

  @Test
  void theTextComesBackByteForByteAndNothingIsLeftBeside() throws Exception {
    String text = "# \u00c4\r\nwords\n";
    Files.writeString(path(), text);
    NotebookFile file = new NotebookFile(job);

    file.write(file.read());

    assertThat(Files.readString(path())).isEqualTo(text);
    assertThat(names()).containsExactly("interpretation.md");
    assertThat(file.changedOnDisk()).isFalse();
  }

  @Test
  void anotherHandIsNoticed() throws Exception {
    Files.writeString(path(), "one");
    NotebookFile file = new NotebookFile(job);
    file.read();

    Files.writeString(path(), "two");
    assertThat(file.changedOnDisk()).isTrue();

    Files.delete(path());
    assertThat(file.changedOnDisk()).isTrue();
  }

  @Test
  void whatIsNoTextIsRefused() throws Exception {
    Files.write(path(), new byte[] {'a', (byte) 0xff});

    assertThatThrownBy(() -> new NotebookFile(job).read())
        .isInstanceOf(BadInput.class)
        .hasMessage("interpretation.md: the file is not text in UTF-8; expected UTF-8. "
            + "Save it again in UTF-8");
  }

  @Test
  void aFolderWithoutNotebookIsRefused() {
    assertThatThrownBy(() -> new NotebookFile(job).read())
        .isInstanceOf(BadInput.class)
        .hasMessage(job + ": there is no interpretation.md in it; expected a job folder. "
            + "Make one with: slabnote new JOB --survey FILE");
  }

  private List<String> names() throws IOException {
    try (var files = Files.list(job)) {
      return files.map(f -> f.getFileName().toString()).toList();
    }
  }
}
