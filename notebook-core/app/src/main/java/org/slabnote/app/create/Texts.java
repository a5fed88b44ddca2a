package org.slabnote.app.create;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Objects;

/** Sections of the starter notebook, each a file beside this class. */
final class Texts {
  private Texts() {}

  static String of(String section) {
    String name = "starter/" + section + ".md";
    try (InputStream in = Texts.class.getResourceAsStream(name)) {
      byte[] bytes = Objects.requireNonNull(in, name).readAllBytes();
      return new String(bytes, StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(name + " cannot be read", e);
    }
  }
}
