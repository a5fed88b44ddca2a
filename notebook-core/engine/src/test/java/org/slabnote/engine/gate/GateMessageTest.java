package org.slabnote.engine.gate;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.slabnote.engine.problem.Problem;

/** The whole message of each kind of refusal: cell, line of the file, what, why, and what to use. */
class GateMessageTest {
  private static List<String> refused(String... lines) throws Exception {
    String cell = String.join("\n", lines);
    return Cells.refusals("Words of the analyst.\n```java first\n" + cell + "\n```\n").stream()
        .map(Problem::toString)
        .toList();
  }

  @Test
  void aMemberByItsNameReasonAndWhatToUse() throws Exception {
    assertThat(refused("var a = 1;", "var t = System.nanoTime();"))
        .containsExactly(
            "cell first, line 4: java.lang.System.nanoTime may not be used in a cell: a cell "
                + "does not see the clock, or the record would differ with every run. "
                + "Leave the timing to the engine");
  }

  @Test
  void aTypeThatReadsFiles() throws Exception {
    assertThat(refused("var t = new java.io.FileReader(\"notes.txt\");"))
        .containsExactly(
            "cell first, line 3: java.io.FileReader may not be used in a cell: a cell reads and writes no "
                + "files. Read scans with scan(\"E04\", ACROSS), hand data from a csv block with "
                + "picks(\"NAME\"); results leave by show, table and conclude");
  }

  @Test
  void twoTypesOfOneLineRefusedForOneReasonInOneMessage() throws Exception {
    assertThat(refused("Runtime.getRuntime().exec(\"ls\");"))
        .containsExactly(
            "cell first, line 3: java.lang.Process, java.lang.Runtime may not be used in a "
                + "cell: the machine and the process stay outside a cell, so that a stranger's notebook can "
                + "be run. State what you need in the notebook");
  }

  @Test
  void aReferenceInsideALambdaAtItsOwnLine() throws Exception {
    assertThat(refused("Supplier<Random> s =", "    () ->", "        new Random();"))
        .containsExactly(
            "cell first, line 5: new java.util.Random may not be used in a cell: chance "
                + "without a seed gives another answer each time. "
                + "Use new Random(42) with a seed that stands in the notebook");
  }

  @Test
  void aMemberByTheSupertypeThatHasIt() throws Exception {
    assertThat(refused("new ArrayList<>(List.of(1)).parallelStream();"))
        .containsExactly(
            "cell first, line 3: java.util.Collection.parallelStream may not be used in a "
                + "cell: the order of work would differ from run to run. Use stream()");
  }

  @Test
  void whatNoLineNames() throws Exception {
    assertThat(refused("var d = Base64.getDecoder();"))
        .containsExactly(
            "cell first, line 3: java.util.Base64.Decoder, java.util.Base64 may not be used in a cell: it "
                + "is not among the classes that a cell may use. Use the types of the plugin API, Commons "
                + "Math, Tablesaw and java.util");
  }

  @Test
  void chanceInsideCommonsMath() throws Exception {
    assertThat(refused(
            "var d = new org.apache.commons.math3.distribution.NormalDistribution(0, 1).sample();"))
        .containsExactly(
            "cell first, line 3: org.apache.commons.math3.distribution.NormalDistribution.sample may not "
                + "be used in a cell: chance without a seed gives another answer each time. "
                + "Use inverseCumulativeProbability on a seeded Random");
  }

  @Test
  void aReaderOfTablesaw() throws Exception {
    assertThat(refused("var t = tech.tablesaw.api.Table.read().csv(\"a.csv\");"))
        .containsExactly(
            "cell first, line 3: tech.tablesaw.io.DataFrameReader, tech.tablesaw.api.Table.read may not be "
                + "used in a cell: a cell reads and writes no files. Hand data stand in csv blocks, read "
                + "by data(\"NAME\"); results leave by show, table and conclude");
  }

  @Test
  void aHashCode() throws Exception {
    assertThat(refused("int h(Object o) { return o.hashCode(); }"))
        .containsExactly(
            "cell first, line 3: java.lang.Object.hashCode may not be used in a cell: hash "
                + "codes of objects differ from run to run. Compare with equals");
  }

  @Test
  void theTextOfAnArray() throws Exception {
    assertThat(refused("double[] trace = {1, 2};", "var s = \"trace \" + trace;"))
        .containsExactly(
            "cell first, line 4: the text of an array may not be used in a cell: it has none "
                + "of its own and shows its place in memory, which differs from run to run. "
                + "Use Arrays.toString, or a list");
  }

  @Test
  void theTextOfARecordWithAnArray() throws Exception {
    assertThat(refused("record Trace(double[] samples) { }", "var s = \"\" + new Trace(null);"))
        .containsExactly(
            "cell first, line 4: the text of Trace, which holds an array, may not be used in "
                + "a cell: it has none of its own and shows its place in memory, which differs from run to "
                + "run. Use Arrays.toString, or a list");
  }

  @Test
  void theTextOfAnObjectOfALibrary() throws Exception {
    assertThat(refused("var s = \"\" + new Random(3);"))
        .containsExactly(
            "cell first, line 3: the text of java.util.Random may not be used in a cell: it "
                + "has none of its own and shows its place in memory, which differs from run to run. "
                + "Show what it holds");
  }

  @Test
  void theNameOfAClassThatIsNotKnown() throws Exception {
    assertThat(refused("String f(Object o) { return o.getClass().getSimpleName(); }"))
        .containsExactly(
            "cell first, line 3: java.lang.Class.getSimpleName may not be used in a cell: "
                + "what is not known to be of a class with a name may be a lambda, whose name differs from "
                + "run to run. Use it on a variable of the class or interface itself, or write the name");
  }

  @Test
  void aFormatThatShowsIdentityDatesOrLineEnds() throws Exception {
    assertThat(refused("String.format(\"%h %tY%n\", \"a\", 0L);"))
        .containsExactly(
            "cell first, line 3: %h may not be used in a cell: hash codes of objects differ from run to "
                + "run. Use %s",
            "cell first, line 3: %t may not be used in a cell: dates hang on the time zone of the "
                + "machine. Dates stand in job.toml",
            "cell first, line 3: %n may not be used in a cell: the end of a line differs between "
                + "machines. Use \\n");
  }

  @Test
  void catchingErrors() throws Exception {
    assertThat(refused("try {", "  Integer.parseInt(\"x\");", "} catch (Throwable t) {", "}"))
        .containsExactly(
            "cell first, line 5: catching java.lang.Throwable may not stand in a cell: it "
                + "would swallow the engine's own stop, and where a stack overflows differs between machines. "
                + "Catch an exception such as IllegalArgumentException");
  }

  @Test
  void theAssignmentOfAFieldThatIsNotTheCells() throws Exception {
    assertThat(refused("org.slabnote.engine.gate.Open.field = 3;"))
        .contains(
            "cell first, line 3: org.slabnote.engine.gate.Open.field may not be assigned in a cell: "
                + "other steps read it. Use a variable of the cell");
  }

  @Test
  void serializableClassesAndLambdas() throws Exception {
    assertThat(refused("record Z(int a) implements java.io.Serializable { }"))
        .containsExactly(
            "cell first, line 3: a cell's class cannot be Serializable: reading it back would "
                + "run code unseen. Leave Serializable out");
    assertThat(refused("Runnable r = (Runnable & java.io.Serializable) () -> { };"))
        .contains(
            "cell first, line 3: a cell's lambda cannot be Serializable: reading it back would run "
                + "code unseen. Leave Serializable out");
  }

  @Test
  void nativeAndFinalizeAndSynchronized() throws Exception {
    assertThat(refused("class N { native void go(); }"))
        .containsExactly(
            "cell first, line 3: a native method may not stand in a cell: it runs outside "
                + "Java. Write it in Java, or publish it as a plugin");
    assertThat(refused("class F { protected void finalize() { } }"))
        .containsExactly(
            "cell first, line 3: a method finalize() may not stand in a cell: when it runs "
                + "differs from run to run. Leave it out");
    assertThat(refused("class S { int n; synchronized void up() { n++; } }"))
        .containsExactly(
            "cell first, line 3: synchronized may not stand in a cell: who comes first "
                + "differs from run to run. Let each item of the work write to a place of its own, and add up "
                + "afterwards");
  }

  @Test
  void anOperationThatUsesAVariable() throws Exception {
    assertThat(refused(
            "var factor = 2;",
            "int twice(int x) {",
            "  return x * factor;",
            "}",
            "record Scaled(Step<Integer> in) implements Operation<Integer> {",
            "  public Integer apply(Work work) {",
            "    return twice(in.get());",
            "  }",
            "}"))
        .containsExactly(
            "cell first, line 5: the operation Scaled uses the variable factor, whose later "
                + "changes its remembered results would not show. Make it a component of the record: "
                + "record Scaled(... factor)");
  }

  @Test
  void anOperationThatUsesAStaticField() throws Exception {
    assertThat(refused(
            "record Counted(int k) implements Operation<Integer> {",
            "  static int count;",
            "  public Integer apply(Work work) { return count++; }",
            "}"))
        .containsExactly(
            "cell first, line 5: the operation Counted uses the static field count, whose "
                + "later changes its remembered results would not show. Make it a component of the record: "
                + "record Counted(... count), or a static final number, text, record or List.of(...)");
  }

  @Test
  void anOperationThatAsksTheNotebook() throws Exception {
    assertThat(refused(
            "record Many(int k) implements Operation<Integer> {",
            "  public Integer apply(Work work) { return cuts().size(); }",
            "}"))
        .containsExactly(
            "cell first, line 4: the operation Many asks the notebook by cuts(...), which its "
                + "remembered results would not show. Make what it needs a component of the record: a Step, "
                + "or a parameter");
  }

  @Test
  void anOperationWhoseComponentsMayChange() throws Exception {
    assertThat(refused(
            "record Kernel(double[] values) implements Operation<Integer> {",
            "  public Integer apply(Work work) { return 1; }",
            "}"))
        .containsExactly(
            "cell first, line 3: the component values of the operation Kernel is of a type "
                + "that can change after the step is stated. Use a quantity, a number, a text, an enum, a "
                + "record or a List, which is copied");
    assertThat(refused(
            "record Sly(int k) implements Operation<Integer> {",
            "  public int k() { return 1; }",
            "  public Integer apply(Work work) { return k; }",
            "}"))
        .containsExactly(
            "cell first, line 3: the operation Sly gives out its component k by a method of "
                + "its own, so that another value may be remembered than is used. "
                + "Leave the method out, or give it another name");
  }

  @Test
  void aStepThatTheEngineDidNotMake() throws Exception {
    assertThat(refused("abstract class Mine implements Step<Integer> { }"))
        .containsExactly(
            "cell first, line 3: a cell's class cannot be a org.slabnote.api.Step: only the "
                + "engine makes these, so that they stand in the record. "
                + "Use run(...), then(...) or each(...)");
  }

  @Test
  void anOperationThatIsALambdaOrNoRecord() throws Exception {
    assertThat(refused("Operation<Integer> o = w -> 3;"))
        .containsExactly(
            "cell first, line 3: a lambda is no operation: it has no name and no parameters "
                + "to remember its result by. Declare a record that implements Operation");
    assertThat(
            refused(
                "class Mine implements Operation<Integer> { public Integer apply(Work work) { return 1; } }"))
        .containsExactly(
            "cell first, line 3: the operation Mine is no record, so that its parameters "
                + "cannot be told. Declare it as a record, with its inputs and parameters as components");
  }

  @Test
  void whatIsMadeHarmlessSaysWhereItDiffers() throws Exception {
    assertThat(thrown("var s = Set.of(1, 2, 1);"))
        .isEqualTo("Set.of: an element stands twice among [1, 2, 1]. Leave one out");
    assertThat(thrown("var m = Map.of(\"a\", 1, \"a\", 2);"))
        .isEqualTo("Map.of: the key a stands twice. Leave one out");
    assertThat(
            thrown("var m = Stream.of(\"b\", \"bb\").collect(Collectors.toMap(s -> 1, s -> s));"))
        .isEqualTo("toMap: two values for one key, b and bb. "
            + "Give toMap a third argument that joins them");
    assertThat(thrown("var f = \"%\"; f += \"h\"; var s = String.format(f, \"x\");"))
        .isEqualTo("the format \"%h\" has %h, %t or %n, which differ between machines and runs. "
            + "Use %s or %d, and \\n for the end of a line");
  }

  @Test
  void aTextThatOnlyTheRunCanKnowIsRefusedThen() throws Exception {
    for (String shown : List.of(
        "\"x\" + all",
        "String.valueOf(all)",
        "all.toString()",
        "String.format(\"%s\", all)",
        "new StringBuilder().append(all).toString()",
        "all.stream().map(Object::toString).toList()",
        "all.stream().map(String::valueOf).toList()")) {
      assertThat(thrown(
              "List<Object> all = new ArrayList<>(); all.add(new int[1]); var s = " + shown + ";"))
          .as(shown)
          .matches("the text \"\\[?\\[I@\\(place in memory\\)\\]?\" shows a place in memory, which "
              + "differs from run to run\\. Show what the object holds");
    }
  }

  private static String thrown(String cell) throws Exception {
    var document = Cells.document("```java first\n" + cell + "\n```\n");
    var compiled = Cells.compile(document);
    assertThat(Cells.refusals(compiled, document)).isEmpty();
    try {
      return "gives " + Cells.run(compiled, name -> true);
    } catch (java.lang.reflect.InvocationTargetException e) {
      return e.getCause().getMessage();
    }
  }
}
