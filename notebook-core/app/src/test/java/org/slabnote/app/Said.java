package org.slabnote.app;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Map;

/** What a command said: exit status, standard output, standard error. */
public record Said(int status, String out, String err) {
  /** Runs a command in this process, away from any terminal. */
  public static Said of(Bench bench, String... arguments) {
    return of(false, Map.of(), bench, arguments);
  }

  /** Runs a command with the engine itself. */
  public static Said of(String... arguments) {
    return of(Bench.ofEngine(), arguments);
  }

  static Said of(
      boolean terminal, Map<String, String> environment, Bench bench, String... arguments) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    int status =
        Main.run(new Terminal(out, err, terminal, terminal, environment), bench, arguments);
    return new Said(
        status, out.toString(StandardCharsets.UTF_8), err.toString(StandardCharsets.UTF_8));
  }
}
