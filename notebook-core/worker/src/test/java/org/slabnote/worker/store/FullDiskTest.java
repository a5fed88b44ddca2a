package org.slabnote.worker.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.file.FileSystem;
import java.nio.file.Path;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.slabnote.api.codec.Canonical;

/** A file system of 300 kB in memory: what does not fit is refused, what was there stays right. */
class FullDiskTest {
  private static byte[] content(int which) {
    byte[] bytes = new byte[20_000 + 1000 * which];
    new SplittableRandom(which).nextBytes(bytes);
    return bytes;
  }

  @Test
  void keepsWhatItHasWhenTheDiskIsFull() throws IOException {
    Configuration small =
        Configuration.unix().toBuilder().setBlockSize(4096).setMaxSize(300_000).build();
    try (FileSystem disk = Jimfs.newFileSystem(small)) {
      Path folder = disk.getPath("/cache/store");
      Store store = Store.at(folder);
      int fitted = 0;
      int refused = 0;
      for (int i = 0; i < 30; i++) {
        byte[] bytes = content(i);
        try {
          store.put(Canonical.digest(i), Canonical.sha256(bytes), bytes);
          fitted++;
        } catch (IOException e) {
          refused++;
        }
      }
      assertThat(fitted).isBetween(5, 14);
      assertThat(refused).isEqualTo(30 - fitted);
      int found = 0;
      for (int i = 0; i < 30; i++) {
        byte[] bytes = content(i);
        var got = store.digestOf(Canonical.digest(i)).flatMap(store::bytes);
        if (got.isPresent()) {
          assertThat(got.get()).isEqualTo(bytes);
          found++;
        }
      }
      assertThat(found).isEqualTo(fitted);
      assertThat(store.verify().damaged()).isEmpty();
      assertThat(Shelves.names(folder.resolve("steps-1/parts")))
          .as("no part is left")
          .isEmpty();
      byte[] more = content(29);
      assertThatThrownBy(() -> StoreLimit.set(folder, 1))
          .hasMessage("limit of the store: 1 B; expected at least 10 MB");
      store.clear();
      store.put(Canonical.digest(29), Canonical.sha256(more), more);
      assertThat(store.has(Canonical.digest(29))).as("with room again").isTrue();
    }
  }
}
