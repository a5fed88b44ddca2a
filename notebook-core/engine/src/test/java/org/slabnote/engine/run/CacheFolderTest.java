package org.slabnote.engine.run;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;

class CacheFolderTest {
  @Test
  void followsTheSystem() {
    assertThat(CacheFolder.of("Linux", "/home/u", Map.of()))
        .isEqualTo(Path.of("/home/u/.cache/slabnote"));
    assertThat(CacheFolder.of("Linux", "/home/u", Map.of("XDG_CACHE_HOME", "/c")))
        .isEqualTo(Path.of("/c/slabnote"));
    assertThat(CacheFolder.of("Linux", "/home/u", Map.of("XDG_CACHE_HOME", "relative")))
        .isEqualTo(Path.of("/home/u/.cache/slabnote"));
    assertThat(CacheFolder.of("Mac OS X", "/Users/u", Map.of()))
        .isEqualTo(Path.of("/Users/u/Library/Caches/slabnote"));
    assertThat(CacheFolder.of("Windows 11", "/u", Map.of("LOCALAPPDATA", "/u/local")))
        .isEqualTo(Path.of("/u/local/slabnote"));
  }
}
