package org.slabnote.engine.gate;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Makes cells by chance out of a fragment, forbidden or allowed, and ways to wrap it: whatever the
 * wrapping, the gate's answer is that of the fragment.
 */
final class HostileCells {
  /**
   * A fragment.
   *
   * @param code an expression with a value that is no primitive and throws nothing checked
   * @param word what the refusal names; empty for an allowed one
   */
  record Fragment(String code, String word) {}

  /**
   * A cell.
   *
   * @param source its text
   * @param word what the refusal must name; empty where the gate must let it through
   */
  record Made(String source, String word) {}

  private static final List<Fragment> FORBIDDEN = List.of(
      new Fragment("System.getenv(\"A\")", "java.lang.System.getenv"),
      new Fragment("System.getProperties()", "java.lang.System.getProperties"),
      new Fragment("(Object) System.nanoTime()", "java.lang.System.nanoTime"),
      new Fragment("(Object) Math.random()", "java.lang.Math.random"),
      new Fragment("new Random()", "java.util.Random"),
      new Fragment("new java.io.File(\"a\")", "java.io.File"),
      new Fragment("java.nio.file.Path.of(\"a\")", "java.nio.file.Path"),
      new Fragment("Thread.currentThread()", "java.lang.Thread"),
      new Fragment("Runtime.getRuntime()", "java.lang.Runtime"),
      new Fragment("List.of(1).parallelStream()", "java.util.Collection.parallelStream"),
      new Fragment("Stream.of(1).parallel()", "java.util.stream.BaseStream.parallel"),
      new Fragment("(Object) \"a\".getClass().getName()", "java.lang.Class.getName"),
      new Fragment("ClassLoader.getSystemClassLoader()", "java.lang.ClassLoader"),
      new Fragment("java.time.Instant.now()", "java.time.Instant"),
      new Fragment("UUID.randomUUID()", "java.util.UUID"),
      new Fragment("Locale.getDefault()", "java.util.Locale.getDefault"),
      new Fragment("(Object) new Object().hashCode()", "hashCode"),
      new Fragment("(Object) System.identityHashCode(\"a\")", "identityHashCode"),
      new Fragment("new IdentityHashMap<String, String>()", "java.util.IdentityHashMap"),
      new Fragment("ServiceLoader.load(Runnable.class)", "java.util.ServiceLoader"),
      new Fragment("java.lang.invoke.MethodHandles.lookup()", "java.lang.invoke.MethodHandles"),
      new Fragment("\"a\".getBytes()", "java.lang.String.getBytes"),
      new Fragment("(\"a\" + new int[1])", "the text of an array"),
      new Fragment("String.valueOf(new int[1])", "the text of an array"),
      new Fragment("String.format(\"%h\", \"a\")", "%h"),
      new Fragment("new org.apache.commons.math3.random.MersenneTwister()", "MersenneTwister"),
      new Fragment(
          "(Object) new org.apache.commons.math3.distribution.TDistribution(3).sample()", "sample"),
      new Fragment("tech.tablesaw.api.Table.read()", "tech.tablesaw.api.Table.read"),
      new Fragment("Work.serial(\"a\")", "org.slabnote.api.Work.serial"),
      new Fragment("Step.given(1)", "org.slabnote.api.Step.given"));

  private static final List<Fragment> ALLOWED = List.of(
      new Fragment("List.of(1, 2)", ""),
      new Fragment("new Random(42)", ""),
      new Fragment("\"a\".toUpperCase()", ""),
      new Fragment("String.format(\"%.2f\", 1.5)", ""),
      new Fragment("new HashMap<String, String>()", ""),
      new Fragment("Set.of(1, 2)", ""),
      new Fragment("Stream.of(2, 1).collect(Collectors.toSet())", ""),
      new Fragment("Stream.of(2, 1).collect(Collectors.toMap(i -> i, i -> i))", ""),
      new Fragment("(Object) Math.cbrt(2.0)", ""),
      new Fragment("Arrays.toString(new int[1])", ""),
      new Fragment("new java.math.BigDecimal(\"1.5\")", ""),
      new Fragment("mm(35).plus(m(0.1))", ""),
      new Fragment("(\"a\" + List.of(1))", ""),
      new Fragment("new org.apache.commons.math3.random.MersenneTwister(42)", ""),
      new Fragment("tech.tablesaw.api.DoubleColumn.create(\"a\", 1.0)", ""));

  private final Random random;

  HostileCells(long seed) {
    random = new Random(seed);
  }

  /** A cell whose names end in a number of its own. */
  Made next(int number) {
    boolean forbidden = random.nextInt(4) > 0;
    List<Fragment> from = forbidden ? FORBIDDEN : ALLOWED;
    Fragment fragment = from.get(random.nextInt(from.size()));
    String code = "(" + fragment.code() + ")";
    List<String> before = new ArrayList<>();
    for (int depth = random.nextInt(4); depth > 0; depth--) {
      code = expression(code, before, number * 10 + depth);
    }
    String source = String.join("\n", before) + "\n" + statement(code, number);
    return new Made(source.strip(), fragment.word());
  }

  /** An expression that comes to the value of another, by a way of its own. */
  private String expression(String code, List<String> before, int n) {
    return switch (random.nextInt(16)) {
      case 0 -> "((Supplier<Object>) () -> " + code + ").get()";
      case 1 -> "Stream.of(1).map(i" + n + " -> " + code + ").toList()";
      case 2 -> "Optional.empty().orElseGet(() -> " + code + ")";
      case 3 -> "new Object() { Object go() { return " + code + "; } }.go()";
      case 4 -> "(1 > 0 ? " + code + " : null)";
      case 5 -> "(switch (\"a\") { case \"b\" -> (Object) null; default -> " + code + "; })";
      case 6 -> declared(before, "Object m" + n + "() { return " + code + "; }", "m" + n + "()");
      case 7 -> declared(before, "Object v" + n + " = " + code + ";", "v" + n);
      case 8 ->
        declared(
            before,
            "class C" + n + " { static Object go() { return " + code + "; } }",
            "C" + n + ".go()");
      case 9 ->
        declared(
            before,
            "record R" + n + "(int a) { Object go() { return " + code + "; } }",
            "new R" + n + "(1).go()");
      case 10 ->
        declared(
            before,
            "interface F" + n + "<T> { T go(T in); }\nclass G" + n + " implements F" + n
                + "<Object> { public Object go(Object in) { return " + code + "; } }",
            "((F" + n + "<Object>) new G" + n + "()).go(1)");
      case 11 ->
        declared(
            before,
            "abstract class A" + n + " { abstract Object go(); Object twice() { return go(); } }\n"
                + "class B" + n + " extends A" + n + " { Object go() { return " + code + "; } }",
            "new B" + n + "().twice()");
      case 12 ->
        declared(
            before,
            "enum E" + n + " { ONE { Object go() { return " + code
                + "; } }; abstract Object go(); }",
            "E" + n + ".ONE.go()");
      case 13 ->
        declared(
            before,
            "Object t" + n + "() { try { return " + code
                + "; } catch (RuntimeException e) { return null; } finally { int z = 1; } }",
            "t" + n + "()");
      case 14 ->
        declared(
            before,
            "class S" + n + " { static final Object HELD = " + code + "; }",
            "S" + n + ".HELD");
      default ->
        declared(
            before,
            "interface D" + n + " { default Object go() { return " + code + "; } }",
            "new D" + n + "() { }.go()");
    };
  }

  private static String declared(List<String> before, String declaration, String use) {
    before.add(declaration);
    return use;
  }

  private String statement(String code, int n) {
    return switch (random.nextInt(8)) {
      case 0 -> "Object w" + n + " = " + code + ";";
      case 1 -> "for (int turn = 0; turn < 1; turn++) { Object o = " + code + "; }";
      case 2 -> "if (1 > 0) { Object o = " + code + "; }";
      case 3 -> "Supplier<Object> w" + n + " = () -> { Object o = " + code + "; return o; };";
      case 4 -> "try { Object o = " + code + "; } finally { int z = 1; }";
      case 5 -> "var w" + n + " = new Object[] {1, " + code + "};";
      case 6 ->
        "record W" + n + "(int a) { W" + n + "(Object o) { this(1); } static Object go() { return "
            + code + "; } }";
      default -> "List<Object> w" + n + " = new ArrayList<>(); w" + n + ".add(" + code + ");";
    };
  }
}
