package org.slabnote.engine.gate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.apache.commons.math3.util.FastMath;
import org.junit.jupiter.api.Test;
import org.objectweb.asm.ClassReader;
import org.slabnote.api.Notebook;
import org.slabnote.engine.compiler.CellCompiler;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.compiler.CompiledClass;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import tech.tablesaw.api.Table;

public class GateTest {
  private static final List<Path> CLASS_PATH = List.of(
      home(Notebook.class), home(FastMath.class), home(Table.class), home(ClassReader.class));
  private static final List<String> IMPORTS = List.of(
      "org.slabnote.api.*",
      "static org.slabnote.api.Notebook.*",
      "org.slabnote.api.quantity.*",
      "static org.slabnote.api.quantity.Quantities.*",
      "java.util.*",
      "java.util.function.*",
      "java.util.stream.*");

  @Test
  void refusesEveryHostileStatement() throws Exception {
    List<String[]> hostile = new ArrayList<>();
    StringBuilder text = new StringBuilder();
    for (String line : lines("hostile.txt")) {
      String[] parts = line.split(" \\| ", 2);
      hostile.add(parts);
      text.append("```java c")
          .append(hostile.size())
          .append('\n')
          .append(parts[1])
          .append("\n```\n");
    }
    assertThat(hostile).hasSizeGreaterThan(70);
    List<Problem> problems = refusals(text.toString());
    for (int i = 0; i < hostile.size(); i++) {
      String cell = "c" + (i + 1);
      int line = 3 * i + 2;
      List<Problem> own =
          problems.stream().filter(p -> p.cell().equals(cell)).collect(Collectors.toList());
      assertThat(own).as(hostile.get(i)[1]).isNotEmpty();
      assertThat(own).as(hostile.get(i)[1]).allMatch(p -> p.line() == line);
      String named = hostile.get(i)[0];
      assertThat(own).as(hostile.get(i)[1]).anyMatch(p -> p.message().contains(named));
    }
  }

  @Test
  void letsEveryHonestStatementThrough() throws Exception {
    List<String> honest = lines("honest.txt");
    assertThat(honest).hasSizeGreaterThan(40);
    check("```java honest\n" + String.join("\n", honest) + "\n```\n");
  }

  @Test
  void tellsCellLineNameReasonAndWhatToUse() throws Exception {
    assertThat(refusals("Words\n```java first\nvar a = 1;\nvar t = System.nanoTime();\n```\n"))
        .extracting(Problem::toString)
        .containsExactly(
            "cell first, line 4: java.lang.System.nanoTime may not be used in a cell: a cell does not "
                + "see the clock, or the record would differ with every run. "
                + "Leave the timing to the engine");
    assertThat(refusals("```java first\nvar t = new java.io.FileReader(\"notes.txt\");\n```\n"))
        .extracting(Problem::toString)
        .containsExactly(
            "cell first, line 2: java.io.FileReader may not be used in a cell: a cell reads and "
                + "writes no files. Read scans with scan(\"E04\", ACROSS), hand data from a csv block "
                + "with picks(\"NAME\"); results leave by show, table and conclude");
  }

  @Test
  void refusesTheAssignmentOfAFieldThatIsNotTheCells() throws Exception {
    assertThat(refusals(
            "```java first\norg.slabnote.engine.gate.GateTest.Open.field = 3;\n```\n", true))
        .extracting(Problem::message)
        .contains(
            "org.slabnote.engine.gate.GateTest$Open.field may not be assigned in a cell: other steps "
                + "read it. Use a variable of the cell");
  }

  @Test
  void refusesAnOperationThatReadsACellVariable() throws Exception {
    assertThat(refusals("""
                ```java first
                var factor = 2;
                int twice(int x) {
                  return x * factor;
                }
                record Scaled(Step<Integer> in) implements Operation<Integer> {
                  public Integer apply(Work work) {
                    return twice(in.get());
                  }
                }
                ```
                """))
        .extracting(Problem::toString)
        .containsExactly(
            "cell first, line 4: the operation Scaled uses the variable factor, whose later changes "
                + "its remembered results would not show. Make it a component of the record: "
                + "record Scaled(... factor)");
  }

  @Test
  void everyNamedClassIsThere() throws Exception {
    try (ClassWorld world = new ClassWorld(CLASS_PATH)) {
      assertThat(AllowList.standard(List.of()).namedClasses())
          .allMatch(name -> world.find(name.replace('.', '/')).isPresent());
    }
  }

  /** A public static field that no cell may assign. */
  public static final class Open {
    /** The field. */
    public static int field;

    private Open() {}
  }

  private static List<Problem> refusals(String text) throws Exception {
    return refusals(text, false);
  }

  private static List<Problem> refusals(String text, boolean withTests) throws Exception {
    Document document = Document.parse("interpretation.md", text).orRefuse();
    List<Path> path = new ArrayList<>(CLASS_PATH);
    if (withTests) {
      path.add(home(GateTest.class));
    }
    Compiled compiled = new CellCompiler(path, IMPORTS).compile(document);
    try {
      new Gate(path, List.of()).check(compiled, document);
      return fail("nothing was refused");
    } catch (BadInput bad) {
      return bad.problems();
    }
  }

  private static void check(String text) throws BadInput {
    Document document = Document.parse("interpretation.md", text).orRefuse();
    Compiled compiled = new CellCompiler(CLASS_PATH, IMPORTS).compile(document);
    assertThat(compiled.classes()).extracting(CompiledClass::name).isNotEmpty();
    new Gate(CLASS_PATH, List.of()).check(compiled, document);
  }

  private static List<String> lines(String resource) throws IOException {
    try (var in = GateTest.class.getResourceAsStream(resource)) {
      return new String(in.readAllBytes(), java.nio.charset.StandardCharsets.UTF_8)
          .lines()
          .filter(line -> !line.startsWith("#") && !line.isBlank())
          .collect(Collectors.toList());
    }
  }

  private static Path home(Class<?> type) {
    try {
      return Path.of(type.getProtectionDomain().getCodeSource().getLocation().toURI());
    } catch (URISyntaxException e) {
      throw new IllegalStateException(e);
    }
  }
}
