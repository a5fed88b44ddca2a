package org.slabnote.worker.store;

import java.io.IOException;
import java.nio.channels.SeekableByteChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.OpenOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Arrays;
import java.util.Optional;
import java.util.Set;
import org.slabnote.api.codec.Canonical;

/** What a key's file holds: the digest of its value, and the seal, the digest of key and that together. */
final class KeyLine {
  private static final int LENGTH = 129;
  private static final Set<OpenOption> NO_LINK =
      Set.of(StandardOpenOption.READ, LinkOption.NOFOLLOW_LINKS);

  private KeyLine() {}

  static byte[] of(String key, String digest) {
    return (digest + " " + seal(key, digest)).getBytes(StandardCharsets.ISO_8859_1);
  }

  private static String seal(String key, String digest) {
    return Canonical.sha256((key + digest).getBytes(StandardCharsets.ISO_8859_1));
  }

  /** Returns the digest that a key's file holds; a file that does not verify is deleted. */
  static Optional<String> read(Shelves shelves, String key) {
    Path file = Shelves.place(shelves.keys, key);
    try {
      byte[] bytes = content(file, LENGTH);
      String line = new String(bytes, StandardCharsets.ISO_8859_1);
      if (bytes.length == LENGTH) {
        String digest = line.substring(0, 64);
        if (Arrays.equals(bytes, of(key, digest))) {
          return Optional.of(digest);
        }
      }
      Shelves.delete(file);
      return Optional.empty();
    } catch (IOException e) {
      return Optional.empty(); // not there, or not to be read: compute
    }
  }

  /**
   * Reads a file that is no link.
   *
   * @param most bytes it may have; a longer one gives one byte more than that
   */
  static byte[] content(Path file, int most) throws IOException {
    try (SeekableByteChannel in = Files.newByteChannel(file, NO_LINK)) {
      if (!Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
        throw new NoSuchFileException(file.toString());
      }
      byte[] bytes = new byte[(int) Math.min(in.size(), most + 1L)];
      java.nio.ByteBuffer buffer = java.nio.ByteBuffer.wrap(bytes);
      while (buffer.hasRemaining() && in.read(buffer) >= 0) {
        continue;
      }
      return buffer.hasRemaining() ? Arrays.copyOf(bytes, buffer.position()) : bytes;
    }
  }
}
