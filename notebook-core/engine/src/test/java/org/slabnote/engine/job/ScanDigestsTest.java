package org.slabnote.engine.job;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.codec.Canonical;

class ScanDigestsTest {
  @TempDir
  Path folder;

  private static String sha256(String text) {
    return Canonical.sha256(text.getBytes(java.nio.charset.StandardCharsets.UTF_8));
  }

  @Test
  void seesAChangeThatKeepsLengthAndTime() throws IOException {
    Path file = Files.writeString(folder.resolve("E01.sgy"), "one");
    FileTime old = FileTime.from(Instant.parse("2026-01-01T00:00:00Z"));
    Files.setLastModifiedTime(file, old);
    ScanDigests digests = new ScanDigests();
    assertThat(digests.of(file)).isEqualTo(sha256("one"));
    Files.writeString(file, "two");
    Files.setLastModifiedTime(file, old);
    assertThat(digests.of(file)).isEqualTo(sha256("two"));
  }

  @Test
  void seesAFileMovedIntoThePlaceOfAnother() throws IOException {
    Path file = Files.writeString(folder.resolve("E01.sgy"), "one");
    ScanDigests digests = new ScanDigests();
    digests.of(file);
    Path other = Files.writeString(folder.resolve("E02.sgy"), "two");
    Files.move(other, file, java.nio.file.StandardCopyOption.REPLACE_EXISTING);
    assertThat(digests.of(file)).isEqualTo(sha256("two"));
  }
}
