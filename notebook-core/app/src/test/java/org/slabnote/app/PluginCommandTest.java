package org.slabnote.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.jar.JarOutputStream;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.Plugin;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.plugin.PluginPins;
import org.slabnote.engine.run.JobRunner;

/** A stranger's plugin from its source to a run, by the commands alone. */
class PluginCommandTest {
  @TempDir
  private static Path folder;

  private static Path jar;
  private static Path job;

  /** The engine itself, with a cache folder of its own. */
  private static final Bench BENCH = new FakeBench() {
    @Override
    public PluginPins plugins(Path one) {
      return JobRunner.of(one, folder.resolve("cache"), 1).plugins();
    }
  };

  @BeforeAll
  static void build() throws Exception {
    Path sources = Files.createDirectories(folder.resolve("src/com/example/halve"));
    Path plugin = Files.writeString(sources.resolve("HalvePlugin.java"), """
        package com.example.halve;
        import java.util.List;
        import org.slabnote.api.Plugin;
        public final class HalvePlugin implements Plugin {
          public String id() { return "halve"; }
          public String summary() { return "halves samples"; }
          public List<Class<?>> operations() { return List.of(Halve.class); }
        }
        """);
    Path operation = Files.writeString(sources.resolve("Halve.java"), """
        package com.example.halve;
        import org.slabnote.api.*;
        @Op(id = "halve.all", revision = 2, purpose = Purpose.FILTER)
        public record Halve() implements Filter<Scan> {
          public Amplitudes amplitudes() { return Amplitudes.SAME_LINEAR; }
          public Scan apply(Scan in, Work work) { return in; }
        }
        """);
    Path classes = Files.createDirectories(folder.resolve("classes"));
    String api = Path.of(
            Plugin.class.getProtectionDomain().getCodeSource().getLocation().toURI())
        .toString();
    int status = ToolProvider.getSystemJavaCompiler()
        .run(
            null,
            null,
            null,
            "--release",
            "17",
            "-proc:none",
            "-cp",
            api,
            "-d",
            classes.toString(),
            plugin.toString(),
            operation.toString());
    assertThat(status).isZero();
    jar = folder.resolve("halve-1.5.jar");
    try (JarOutputStream out = new JarOutputStream(Files.newOutputStream(jar));
        Stream<Path> files = Files.walk(classes)) {
      put(
          out,
          "META-INF/services/org.slabnote.api.Plugin",
          "com.example.halve.HalvePlugin".getBytes(StandardCharsets.UTF_8));
      put(
          out,
          "META-INF/maven/com.example/halve/pom.properties",
          "groupId=com.example\nartifactId=halve\nversion=1.5\n".getBytes(StandardCharsets.UTF_8));
      for (Path file : files.filter(Files::isRegularFile).toList()) {
        put(out, classes.relativize(file).toString().replace('\\', '/'), Files.readAllBytes(file));
      }
    }
    job = Files.createDirectories(folder.resolve("job"));
    Files.writeString(job.resolve("job.toml"), "title = \"A slab\"\n");
  }

  private static void put(JarOutputStream out, String name, byte[] bytes) throws Exception {
    out.putNextEntry(new ZipEntry(name));
    out.write(bytes);
  }

  private static String shown() throws Exception {
    return """
        Plugin halve: halves samples
          jar               plugins/halve-1.5.jar
          coordinates       com.example:halve:1.5
          SHA-256           %s
          made for          a plugin API that it does not state
          this is           plugin API %s
          operations        halve.all/2  filter
          scan formats      none
          exports to cells  com.example.halve
          libraries inside  none
          hidden packages   none
          libraries beside  none
        It is not confined as cells are: it runs in the worker with your rights.
        """.formatted(
        Canonical.sha256(Files.readAllBytes(jar)), org.slabnote.engine.run.Toolbox.ownVersion());
  }

  private static Said answering(String answer, String... arguments) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    Terminal terminal = new Terminal(
        Optional.of(new ByteArrayInputStream(answer.getBytes(StandardCharsets.UTF_8))),
        out,
        err,
        true,
        true,
        Map.of("TERM", "dumb"));
    int status = Main.run(terminal, BENCH, arguments);
    return new Said(
        status, out.toString(StandardCharsets.UTF_8), err.toString(StandardCharsets.UTF_8));
  }

  private static String[] add() {
    return new String[] {"plugin", "add", job.toString(), jar.toString()};
  }

  @Test
  void itIsShownAndAskedForBeforeItIsPinned() throws Exception {
    Said no = answering("n\n", add());
    assertThat(no.out()).isEqualTo(shown());
    assertThat(no.err())
        .isEqualTo("Pin it to " + job + "? [y/N] halve-1.5.jar: nothing was pinned, as you said\n");
    assertThat(no.status()).isEqualTo(2);
    assertThat(answering("", add()).status()).isEqualTo(2);
    Said nobody = Said.of(BENCH, add());
    assertThat(nobody.status()).isEqualTo(2);
    assertThat(nobody.err())
        .isEqualTo(
            "halve-1.5.jar: nobody is there to ask, so nothing was pinned. Say --yes to go on "
                + "unasked\n");
    assertThat(job.resolve("plugins.lock")).doesNotExist();
    assertThat(job.resolve("plugins")).doesNotExist();

    Said yes = answering("y\n", add());
    assertThat(yes.status()).isZero();
    assertThat(yes.out())
        .isEqualTo(shown() + "Pinned. A cell names its types after: import com.example.halve.*;\n");
    assertThat(job.resolve("plugins/halve-1.5.jar")).hasSameBinaryContentAs(jar);

    String digest = Canonical.sha256(Files.readAllBytes(jar));
    Said list = Said.of(BENCH, "plugin", "list", job.toString());
    assertThat(list)
        .isEqualTo(new Said(
            0,
            "plugin  role    coordinates            jar                    sha256\n"
                + "halve   plugin  com.example:halve:1.5  plugins/halve-1.5.jar  " + digest + "\n",
            ""));

    Files.writeString(job.resolve("plugins/halve-1.5.jar"), "x");
    Said changed = Said.of(BENCH, "plugin", "list", job.toString());
    assertThat(changed.status()).isEqualTo(1);
    assertThat(changed.err())
        .isEqualTo("plugin halve: plugins/halve-1.5.jar changed: pinned is SHA-256 " + digest
            + ", it has " + Canonical.sha256("x".getBytes(StandardCharsets.UTF_8)) + "\n");
    assertThat(Said.of(BENCH, "plugin", "add", "--yes", job.toString(), jar.toString())
            .out())
        .contains("  replaces          com.example:halve:1.5, SHA-256 " + digest);
    assertThat(Said.of(BENCH, "plugin", "list", job.toString()).status()).isZero();

    assertThat(
            Said.of(BENCH, "plugin", "allow", "--yes", job.toString(), "halve").out())
        .endsWith("Allowed on this machine: plugin halve\n");
    assertThat(Said.of(BENCH, "plugin", "remove", job.toString(), "halve"))
        .isEqualTo(new Said(
            0, "Taken away: plugin halve, com.example:halve:1.5, SHA-256 " + digest + "\n", ""));
    assertThat(job.resolve("plugins.lock")).doesNotExist();
    assertThat(job.resolve("plugins")).doesNotExist();
    assertThat(Said.of(BENCH, "plugin", "remove", job.toString(), "halve"))
        .isEqualTo(new Said(2, "", "plugins.lock: no plugin halve is pinned; there is none\n"));
  }

  @Test
  void wrongPlacesAreTold() {
    assertThat(
            Said.of(BENCH, "plugin", "add", folder.toString(), jar.toString()).err())
        .isEqualTo(
            folder + ": this is no job folder: it has no job.toml. Make a job with: slabnote "
                + "new JOB --survey FILE\n");
    assertThat(Said.of(BENCH, "plugin", "add", job.toString(), "gone.jar").err())
        .isEqualTo("gone.jar: there is no such file; expected a jar\n");
  }

  @Test
  void helpTellsStatusFilesAndExamples() {
    for (String command : List.of("add", "list", "allow", "remove")) {
      Said said = Said.of(BENCH, "plugin", command, "--help");
      assertThat(said.status()).isZero();
      assertThat(said.out())
          .contains(
              "Usage: slabnote plugin " + command,
              "JOB ",
              "Exit status:\n  0",
              "Files:",
              "Example");
      assertThat(said.out().lines()).allMatch(line -> line.length() <= 80);
    }
    assertThat(Said.of(BENCH, "plugin", "--help").out().lines())
        .allMatch(line -> line.length() <= 80);
    assertThat(Said.of(BENCH, "plugin").status()).isEqualTo(2);
  }
}
