package org.slabnote.worker;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.file.Files;
import java.nio.file.Path;
import org.slabnote.api.codec.Canonical;

/**
 * Digests of jars by their central directories, which hold names, sizes and CRC-32 of all that is in
 * them: quick however large the jar is.
 *
 * @since 0.1
 */
public final class JarDigest {
  private static final int END_OF_DIRECTORY = 0x06054b50;

  private JarDigest() {}

  /**
   * Returns the digest of a jar's central directory.
   *
   * @throws IOException if the jar cannot be read
   */
  public static String ofDirectory(Path jar) throws IOException {
    try (RandomAccessFile file = new RandomAccessFile(jar.toFile(), "r")) {
      int tail = (int) Math.min(file.length(), 65_557);
      byte[] end = new byte[tail];
      file.seek(file.length() - tail);
      file.readFully(end);
      for (int i = tail - 22; i >= 0; i--) {
        if (little(end, i) == END_OF_DIRECTORY) {
          long size = little(end, i + 12);
          long start = little(end, i + 16);
          if (size < 0 || start < 0 || start + size > file.length()) {
            break; // larger than 4 GB: read it whole
          }
          byte[] directory = new byte[(int) size];
          file.seek(start);
          file.readFully(directory);
          return Canonical.sha256(directory);
        }
      }
    }
    return Canonical.sha256(Files.readAllBytes(jar));
  }

  private static int little(byte[] b, int at) {
    return (b[at] & 0xff) | (b[at + 1] & 0xff) << 8 | (b[at + 2] & 0xff) << 16 | b[at + 3] << 24;
  }
}
