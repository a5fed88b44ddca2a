package org.slabnote.engine.stop;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicReference;
import java.util.jar.JarFile;
import java.util.stream.Stream;
import javax.tools.JavaCompiler;
import javax.tools.ToolProvider;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.slabnote.engine.compiler.CellCompiler;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.gate.Gate;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.worker.stop.StopPoint;

class StopPointsTest {
  private static final String HEAD =
      "import java.util.*; import java.util.function.*; import java.util.stream.*;\n"
          + "public class Cell {\n";

  @TempDir
  private Path folder;

  /** What is thrown at a stop. */
  private static final class Stopped extends Error {
    private static final long serialVersionUID = 1L;

    Stopped() {
      super("stopped", null, false, false);
    }
  }

  /** Defines classes with stop points, and a stop point of its own. */
  private static final class Loader extends ClassLoader {
    private final Map<String, byte[]> classes = new HashMap<>();

    Loader() {
      super(StopPointsTest.class.getClassLoader());
    }

    @Override
    protected Class<?> loadClass(String name, boolean resolve) throws ClassNotFoundException {
      synchronized (getClassLoadingLock(name)) {
        Class<?> loaded = findLoadedClass(name);
        byte[] own = classes.get(name);
        if (loaded == null && own != null) {
          loaded = defineClass(name, own, 0, own.length);
        }
        return loaded != null ? loaded : super.loadClass(name, resolve);
      }
    }

    void stop() throws ReflectiveOperationException {
      loadClass(StopPoint.class.getName())
          .getMethod("stop", Error.class)
          .invoke(null, new Stopped());
    }
  }

  private static Loader loader() throws IOException {
    Loader loader = new Loader();
    try (var in = StopPoint.class.getResourceAsStream("StopPoint.class")) {
      loader.classes.put(
          StopPoint.class.getName(),
          java.util.Objects.requireNonNull(in, "StopPoint").readAllBytes());
    }
    return loader;
  }

  private Loader compiled(String members) throws IOException {
    Path source = Files.writeString(folder.resolve("Cell.java"), HEAD + members + "\n}");
    JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
    int status = compiler.run(
        null, null, null, "-proc:none", "-g:lines", "--release", "17", source.toString());
    assertThat(status).isZero();
    Loader loader = loader();
    try (Stream<Path> files = Files.list(folder)) {
      for (Path file : files.filter(f -> f.toString().endsWith(".class")).toList()) {
        String name = file.getFileName().toString().replace(".class", "");
        loader.classes.put(name, StopPoints.into(Files.readAllBytes(file)));
      }
    }
    return loader;
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "void run() { while (true) { } }",
        "void run() { int i = 0; do { i++; } while (i >= 0 || i < 0); }",
        "void run() { for (;;) { try { Integer.parseInt(\"x\"); } catch (RuntimeException e) { } } }",
        "void run() { while (true) { try { run(); } catch (RuntimeException e) { } finally { continue; } } }",
        "int n; void run() { try { run(); } finally { run(); } }",
        "void run() { try { while (true) { } } finally { while (true) { } } }",
        "void run() { a: while (true) { try { while (true) { } } finally { continue a; } } }",
        "void run() { Stream.iterate(1, x -> x + 1).filter(x -> false).count(); }",
        "void run() { IntStream.generate(() -> 1).map(x -> x + 1).filter(x -> x < 0).findFirst(); }",
        "void run() { Runnable r = () -> { while (true) { } }; r.run(); }",
        "void run() { new Object() { { int i = 1; while (i > 0) { } } }; }",
        "static class A { A(int i) { } A() { this(loop()); } static int loop() { while (true) { } } }"
            + " void run() { new A(); }",
        "record R(int i) { R { while (i == 1) { } } } void run() { new R(1); }",
        "interface I { default void go() { while (true) { } } } void run() { new I() { }.go(); }",
        "enum E { ONE; static { while (true) { if (Math.random() > 2) { break; } } } }"
            + " void run() { E.ONE.name(); }",
        "void run() { int k = 1; int x = 3 + switch (k) { default -> { while (k > 0) { } yield 1; } }; }",
        "void run() { int k = 0; while (true) { switch (k) { case 0: continue; case 1: break;"
            + " default: k = 0; } } }",
        "void run() { long l = 0; double d = 1; for (Object o = null; ; ) { d = d * 1.5 + l; l += 2;"
            + " if (d < 0) { break; } synchronized (this) { l++; } } }",
        "void run() { while (true) { try (AutoCloseable c = () -> { }) { } catch (Exception e) { } } }",
        "void run() { Iterator<Integer> i = new Iterator<>() { public boolean hasNext() { return true; }"
            + " public Integer next() { return 1; } }; while (i.hasNext()) { i.next(); } }",
        "void run() { List<Integer> l = new ArrayList<>(List.of(2, 1)); while (true) {"
            + " l.sort((a, b) -> a - b); } }",
        "void run() { a(); } void a() { try { b(); } finally { b(); } } void b() { try { a(); } finally { a(); } }"
      })
  void whateverGoesOnForEverIsStopped(String members) throws Exception {
    Loader loader = compiled(members);
    Object cell = loader.loadClass("Cell").getDeclaredConstructor().newInstance();
    var run = cell.getClass().getDeclaredMethod("run");
    run.setAccessible(true);
    AtomicReference<Throwable> thrown = new AtomicReference<>();
    Thread thread = new Thread(
        null,
        () -> {
          try {
            run.invoke(cell);
          } catch (java.lang.reflect.InvocationTargetException e) {
            thrown.set(e.getTargetException());
          } catch (IllegalAccessException e) {
            thrown.set(e);
          }
        },
        "endless",
        1 << 18);
    thread.setDaemon(true);
    thread.start();
    thread.join(60);
    assertThat(thread.isAlive()).isTrue();
    loader.stop();
    thread.join(20_000);
    assertThat(thread.isAlive()).isFalse();
    assertThat(thrown.get()).isInstanceOf(Stopped.class);
  }

  /** Even where the class could be found: cells neither pass one by themselves nor stop a run. */
  @Test
  void theGateRefusesACellThatNamesAStopPoint() throws Exception {
    Path worker = Path.of(
        StopPoint.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    String name = StopPoint.class.getName();
    Document document = Document.parse(
        "interpretation.md", "```java odd\n" + name + ".check();\n" + name + ".stop(null);\n```\n");
    Compiled compiled = new CellCompiler(List.of(worker), List.of("java.util.*")).compile(document);
    assertThatThrownBy(() -> new Gate(List.of(worker), List.of()).check(compiled, document))
        .isInstanceOf(BadInput.class)
        .hasMessageStartingWith("cell odd, line 2: " + name)
        .hasMessageContaining("cell odd, line 3: " + name);
  }

  @Test
  void linesStayAsTheyWere() throws Exception {
    Loader loader = compiled("static void run(int n) {\n"
        + "  for (int i = 0; i < 3; i++) {\n"
        + "    if (i == n) {\n"
        + "      throw new IllegalStateException();\n"
        + "    }\n"
        + "  }\n"
        + "}\n"
        + "static void entered() { run(2); }");
    assertThat(lineOf(loader, "entered")).isEqualTo(6);
  }

  private static int lineOf(Loader loader, String method) throws Exception {
    var called = loader.loadClass("Cell").getDeclaredMethod(method);
    called.setAccessible(true);
    try {
      called.invoke(null);
    } catch (java.lang.reflect.InvocationTargetException e) {
      return e.getTargetException().getStackTrace()[0].getLineNumber();
    }
    return 0;
  }

  /** Every class of a large library, compiled by others, still passes the verifier and computes the same. */
  @Test
  void aLibraryWithStopPointsVerifiesAndComputesTheSame() throws Exception {
    Path jar = Path.of(
        BrentSolver.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    Loader loader = loader();
    try (JarFile file = new JarFile(jar.toFile())) {
      for (var entry : file.stream().filter(e -> e.getName().endsWith(".class")).toList()) {
        String name = entry.getName().replace(".class", "").replace('/', '.');
        loader.classes.put(name, StopPoints.into(file.getInputStream(entry).readAllBytes()));
      }
    }
    List<String> names = loader.classes.keySet().stream().sorted().toList();
    assertThat(names).hasSizeGreaterThan(900);
    for (String name : names) {
      Class<?> type = Class.forName(name, true, loader);
      assertThat(type.getClassLoader()).isSameAs(loader);
    }
    Class<?> gamma = loader.loadClass("org.apache.commons.math3.special.Gamma");
    Object there = gamma.getMethod("logGamma", double.class).invoke(null, 0.3);
    assertThat(there).isEqualTo(org.apache.commons.math3.special.Gamma.logGamma(0.3));
  }
}
