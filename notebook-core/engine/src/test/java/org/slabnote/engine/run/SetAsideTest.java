package org.slabnote.engine.run;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.job.PinnedJar;
import org.slabnote.engine.job.PinnedPlugin;
import org.slabnote.engine.job.PluginsLock;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/** Plugins that cannot be loaded: refused when they are pinned, set aside where they are pinned. */
class SetAsideTest {
  private static final String REST = ". The rest was loaded; only a notebook that needs it stops";

  @TempDir
  private static Path cache;

  @TempDir
  private Path folder;

  private Path job;

  @BeforeEach
  void makeAJob() throws Exception {
    job = JobFixture.write(folder.resolve("job"), "# A slab\n");
  }

  private static JarMaker odd() {
    return ThirdParties.odd("return table(1);", "");
  }

  private static JarMaker plugin(String id, String operations, String more) {
    return new JarMaker()
        .coordinates("com.example.odd", "odd", "3.0")
        .plugin("com.example.odd.OddPlugin", id, operations, more);
  }

  /** Pins a jar by hand, as a lock that comes with a stranger's job may. */
  private void lock(String id, Path jar, String name) throws IOException {
    Files.createDirectories(job.resolve("plugins"));
    Files.copy(jar, job.resolve("plugins").resolve(name));
    List<PinnedPlugin> pinned = Files.exists(job.resolve("plugins.lock"))
        ? new java.util.ArrayList<>(parsed())
        : new java.util.ArrayList<>();
    pinned.add(new PinnedPlugin(
        id,
        List.of(new PinnedJar(
            "com.example", id, "3.0", name, Canonical.sha256(Files.readAllBytes(jar))))));
    Files.writeString(job.resolve("plugins.lock"), PluginsLock.text(pinned));
    try {
      JobRunner.of(job, cache, 2).plugins().allow(id);
    } catch (BadInput e) {
      throw new AssertionError(e);
    }
  }

  private List<PinnedPlugin> parsed() throws IOException {
    try {
      return PluginsLock.parse(Files.readString(job.resolve("plugins.lock")));
    } catch (BadInput e) {
      throw new AssertionError(e);
    }
  }

  private List<String> warnings() throws BadInput {
    return JobRunner.of(job, cache, 2).run(RunListener.NONE).warnings().stream()
        .map(Problem::toString)
        .toList();
  }

  /** Both what the command says and what a run says of it. */
  private void assertUnfit(JarMaker maker, String why) throws Exception {
    Path jar = maker.build(folder.resolve("built/odd.jar"));
    assertUnfit(jar, why);
  }

  private void assertUnfit(Path jar, String why) throws Exception {
    assertThatThrownBy(() -> ThirdParties.pin(job, cache, jar))
        .isInstanceOf(BadInput.class)
        .hasMessage("odd.jar: it cannot be used: " + why + ". Nothing was pinned");
    assertThat(job.resolve("plugins")).doesNotExist();
    assertThat(job.resolve("plugins.lock")).doesNotExist();
    lock("odd", jar, "odd.jar");
    assertThat(warnings())
        .containsExactly(
            "plugins/odd.jar: plugin odd (com.example:odd:3.0) is set aside: " + why + REST);
  }

  @Test
  void aConstructorThatThrows() throws Exception {
    assertUnfit(
        plugin(
            "odd",
            "",
            "public OddPlugin() { throw new UnsupportedOperationException(\"no licence\"); }"),
        "it throws UnsupportedOperationException: no licence (at com.example.odd.OddPlugin, line 8)");
  }

  @Test
  void aStaticInitializerThatThrows() throws Exception {
    assertUnfit(
        plugin("odd", "", "static int x = Integer.parseInt(\"x\");"),
        "it throws NumberFormatException: For input string: \"x\" (at "
            + "com.example.odd.OddPlugin, line 8)");
  }

  @Test
  void aConstructorThatEndsTheProcess() throws Exception {
    assertUnfit(
        plugin("odd", "", "public OddPlugin() { System.exit(0); }"),
        "it ended the process that loaded it (exit status 0), saying: com.example.odd.OddPlugin, line "
            + "8, called exit");
  }

  @Test
  void aNewerJava() throws Exception {
    Path jar = odd().build(folder.resolve("built/odd.jar"));
    assertUnfit(
        withClassFileVersion(jar, 90),
        "it needs Java 46; this is Java " + Runtime.version().feature()
            + ". Get it built for Java 17, or run Slabnote with Java 46");
  }

  /** Byte 6 and 7 of a class file are its major version. */
  private Path withClassFileVersion(Path jar, int version) throws IOException {
    JarMaker newer = new JarMaker();
    try (java.util.zip.ZipFile zip = new java.util.zip.ZipFile(jar.toFile())) {
      for (java.util.zip.ZipEntry entry : zip.stream().toList()) {
        byte[] bytes = zip.getInputStream(entry).readAllBytes();
        if (entry.getName().endsWith(".class")) {
          bytes[7] = (byte) version;
        }
        if (!entry.getName().equals("META-INF/MANIFEST.MF")) {
          newer.entry(entry.getName(), bytes);
        }
      }
    }
    return newer.build(jar);
  }

  @Test
  void anotherApi() throws Exception {
    assertUnfit(
        odd().manifest("Slabnote-Plugin-Api", "2.0"), "it needs plugin API 2.0; this is 0.1");
  }

  @Test
  void aClassThatIsMissing() throws Exception {
    Path library = new JarMaker()
        .source("gone.Base", "package gone; public interface Base { }")
        .build(folder.resolve("built/gone.jar"));
    assertUnfit(
        new JarMaker()
            .plugin("com.example.odd.OddPlugin", "odd", "Odd.class", "")
            .against(library)
            .source("com.example.odd.Odd", """
                package com.example.odd;
                import org.slabnote.api.*;
                @Op(id = "odd.one", revision = 1, purpose = Purpose.TABLE)
                public record Odd(Step<Scan> scan) implements Operation<Table>, gone.Base {
                  public Table apply(Work work) { return null; }
                }
                """),
        "it needs the class gone.Base, which is neither in its jars nor among what plugins may use. "
            + "Perhaps a library is to be pinned with it");
  }

  @Test
  void noPluginInIt() throws Exception {
    assertUnfit(
        new JarMaker().source("a.B", "package a; public class B { }"),
        "it offers no plugin; expected one class named in "
            + "META-INF/services/org.slabnote.api.Plugin");
  }

  @Test
  void aClassOfSlabnotesOwnPackages() throws Exception {
    assertUnfit(
        odd()
            .source(
                "org.slabnote.filters.Dewow",
                "package org.slabnote.filters; public class Dewow { }"),
        "it holds org/slabnote/filters/Dewow.class; the packages org.slabnote are Slabnote's own");
  }

  @Test
  void anOperationThatDoesNotSayWhatItGives() throws Exception {
    assertUnfit(
        plugin("odd", "Odd.class", "").source("com.example.odd.Odd", """
            package com.example.odd;
            import org.slabnote.api.*;
            @Op(id = "odd.one", revision = 1, purpose = Purpose.TABLE)
            public record Odd<R>(Step<R> step) implements Operation<R> {
              public R apply(Work work) { return step.get(); }
            }
            """),
        "odd.one gives a R; expected a type, as in Operation<Table>");
  }

  @Test
  void anOperationOfAForeignPrefix() throws Exception {
    assertUnfit(
        plugin("odd", "Odd.class", "").source("com.example.odd.Odd", """
            package com.example.odd;
            import org.slabnote.api.*;
            @Op(id = "filters.dewow", revision = 1, purpose = Purpose.TABLE)
            public record Odd() implements Operation<Table> {
              public Table apply(Work work) { return null; }
            }
            """),
        "plugin odd offers filters.dewow; expected an id that begins with odd and a dot");
  }

  @Test
  void aJarThatIsNone() throws Exception {
    Path jar = Files.writeString(
        Files.createDirectories(folder.resolve("built")).resolve("odd.jar"), "PK no jar at all");
    assertThatThrownBy(() -> ThirdParties.pin(job, cache, jar))
        .isInstanceOf(BadInput.class)
        .hasMessageStartingWith("odd.jar: it is no jar that can be read (")
        .hasMessageEndingWith("). Get it again from its source. Nothing was pinned");
    lock("odd", jar, "odd.jar");
    assertThat(warnings().get(0))
        .startsWith("plugins/odd.jar: plugin odd (com.example:odd:3.0) is set aside: it is no jar "
            + "that can be read (")
        .endsWith(REST);
  }

  @Test
  void onePinnedByAStrangerRunsOnlyOnceItWasAllowedHere() throws Exception {
    Path ran = folder.resolve("it-ran");
    JarMaker spy = plugin(
        "odd",
        "",
        "public OddPlugin() throws java.io.IOException { java.nio.file.Files.createFile("
            + "java.nio.file.Path.of(\"" + ran + "\")); }");
    lock("odd", spy.build(folder.resolve("built/odd.jar")), "odd.jar");
    JobRunner elsewhere = JobRunner.of(job, folder.resolve("another-cache"), 2);
    String why =
        "it came with the job, and nobody on this machine has allowed it to run. If you trust "
            + "its author, see what it declares and allow it: slabnote plugin allow JOB odd";
    assertThat(elsewhere.check("# A slab\n")).isEmpty();
    assertThat(elsewhere.plugins().list().get(0).problem()).isEqualTo(why);
    assertThat(elsewhere.run(RunListener.NONE).warnings())
        .extracting(Problem::toString)
        .containsExactly("plugins/odd.jar: plugin odd (com.example:odd:3.0) is set aside: " + why);
    assertThat(ran).doesNotExist();
    elsewhere.plugins().allow("odd");
    assertThat(elsewhere.run(RunListener.NONE).warnings()).isEmpty();
    assertThat(ran).exists();
  }

  @Test
  void anIdThatIsNotThePinnedOne() throws Exception {
    lock("even", odd().build(folder.resolve("built/odd.jar")), "odd.jar");
    assertThat(warnings())
        .containsExactly(
            "plugins/odd.jar: plugin even (com.example:even:3.0) is set aside: its id is "
                + "odd; expected even, as it is pinned" + REST);
  }

  @Test
  void aNotebookThatNeedsOneThatIsSetAsideIsToldWhy() throws Exception {
    Path jar = odd().manifest("Slabnote-Plugin-Api", "2.0").build(folder.resolve("built/odd.jar"));
    lock("odd", jar, "odd.jar");
    Files.writeString(
        job.resolve("interpretation.md"), "```java a\nimport com.example.odd.Odd;\n```\n");
    assertThatThrownBy(() -> JobRunner.of(job, cache, 2).run(RunListener.NONE))
        .hasMessage("cell a, line 2: package com.example.odd does not exist. Nothing of "
            + "plugins/odd.jar is loaded: plugin odd (com.example:odd:3.0) is set aside: it needs "
            + "plugin API 2.0; this is 0.1" + REST);
  }

  @Test
  void aBundledPluginsIdCannotBeTaken() throws Exception {
    Path jar = plugin("probe", "", "").build(folder.resolve("built/probe.jar"));
    assertThatThrownBy(() -> ThirdParties.pin(job, cache, jar))
        .hasMessage(
            "probe.jar: its id, probe, is that of the bundled plugin probe. A plugin needs an "
                + "id of its own: ask its author for one. Nothing was pinned");
    lock("probe", jar, "probe.jar");
    assertThatThrownBy(this::warnings)
        .hasMessage("plugins/probe.jar: its id is that of the bundled plugin probe, plugin probe. "
            + "Give one of the two up: slabnote plugin remove JOB ID");
  }

  @Test
  void aPackageIsExportedByOne() throws Exception {
    ThirdParties.pin(job, cache, folder, odd(), "odd.jar");
    Path jar = plugin("even", "", "").build(folder.resolve("built/even.jar"));
    assertThatThrownBy(() -> ThirdParties.pin(job, cache, jar))
        .hasMessage("even.jar: it exports the package com.example.odd to cells, as plugins/odd.jar "
            + "does. Give one of the two up. Nothing was pinned");
    lock("even", jar, "even.jar");
    assertThatThrownBy(this::warnings)
        .hasMessage("plugins/odd.jar: it exports the package com.example.odd to cells, as "
            + "plugins/even.jar does. Give one of the two up: slabnote plugin remove JOB ID");
  }

  @ParameterizedTest
  @CsvSource({"java.util", "org.apache.commons.math3.util", "org.slabnote.api", "com.example.none"})
  void aPackageThatIsNotItsOwnIsNotExported(String name) throws Exception {
    Path jar = plugin(
            "odd",
            "",
            "public List<String> exportedPackages() { return List.of(\"" + name + "\"); }")
        .build(folder.resolve("built/odd.jar"));
    assertThatThrownBy(() -> ThirdParties.pin(job, cache, jar))
        .isInstanceOf(BadInput.class)
        .hasMessageContaining("it exports the package ")
        .hasMessageContaining(name)
        .hasMessageEndingWith("Nothing was pinned");
  }

  @Test
  void aLockThatCannotBeReadIsRefusedWithItsLine() throws Exception {
    Files.writeString(
        job.resolve("plugins.lock"),
        String.join(",", PluginsLock.COLUMNS) + "\nodd,plugin,g,a,1,../odd.jar,12\n");
    assertThatThrownBy(this::warnings)
        .hasMessage("plugins.lock, line 2: jar = ../odd.jar; expected a file name that ends with "
            + ".jar. Restore the file, or pin the plugin again\n"
            + "plugins.lock, line 2: sha256 = 12; expected 64 lower-case hexadecimal digits. "
            + "Restore the file, or pin the plugin again");
  }
}
