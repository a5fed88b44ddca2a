package org.slabnote.engine.gate;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.compiler.CompiledClass;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.Problem;

/** The hostile cells of {@code hostile.txt} are refused, the honest ones of {@code honest.txt} run. */
public class GateTest {
  private static final String ONLY_COMPILED = "only compiled";

  @TestFactory
  List<DynamicTest> refusesEveryHostileCell() throws Exception {
    return refused("hostile.txt", 200);
  }

  @TestFactory
  List<DynamicTest> refusesEveryHostileOperation() throws Exception {
    return refused("operations.txt", 15);
  }

  private static List<DynamicTest> refused(String file, int atLeast) throws Exception {
    List<Cells.Listed> hostile = Cells.listed(file);
    assertThat(hostile).hasSizeGreaterThan(atLeast);
    List<DynamicTest> tests = new ArrayList<>();
    for (List<Cells.Listed> some : Cells.inParts(hostile)) {
      Document document = Cells.notebook(some);
      Map<String, List<Problem>> problems =
          Cells.refusals(Cells.compile(document), document).stream()
              .collect(Collectors.groupingBy(Problem::cell));
      for (Cells.Listed one : some) {
        int first = document.named(one.cell()).orElseThrow().content().firstLine();
        tests.add(DynamicTest.dynamicTest(one.cell() + " " + one.head(), () -> {
          List<Problem> own = problems.getOrDefault(one.cell(), List.of());
          assertThat(own).as(one.source()).isNotEmpty();
          for (String word : one.head().split(" ; ")) {
            assertThat(own).as(one.source()).anyMatch(p -> p.message().contains(word));
          }
          int line = first + Math.max(1, one.marked()) - 1;
          if (!one.source().contains("\n") || one.marked() > 0) {
            assertThat(own).as(one.source()).anyMatch(p -> p.line() == line);
          }
          assertThat(own).allMatch(p -> p.kind() == Problem.Kind.REFUSED);
        }));
      }
    }
    return tests;
  }

  @TestFactory
  List<DynamicTest> letsEveryHonestCellThrough() throws Exception {
    List<Cells.Listed> honest = Cells.listed("honest.txt");
    assertThat(honest).hasSizeGreaterThan(100);
    List<DynamicTest> tests = new ArrayList<>();
    for (List<Cells.Listed> some : Cells.inParts(honest)) {
      Document document = Cells.notebook(some);
      Compiled compiled = Cells.compile(document);
      Map<String, List<Problem>> problems =
          Cells.refusals(compiled, document).stream().collect(Collectors.groupingBy(Problem::cell));
      verified(compiled);
      Set<String> run = some.stream()
          .filter(one -> !one.head().endsWith(ONLY_COMPILED))
          .map(Cells.Listed::cell)
          .filter(cell -> !problems.containsKey(cell))
          .collect(Collectors.toSet());
      Map<String, String> results = Cells.run(compiled, run::contains);
      for (Cells.Listed one : some) {
        tests.add(DynamicTest.dynamicTest(one.cell() + " " + one.head(), () -> {
          assertThat(problems.getOrDefault(one.cell(), List.of()))
              .as(one.source())
              .isEmpty();
          String[] parts = one.head().split(" \\| ", 2);
          assertThat(parts).as("what %s gives", one.cell()).hasSize(2);
          if (!parts[1].equals(ONLY_COMPILED)) {
            assertThat(results.get(one.cell())).as(one.source()).isEqualTo(parts[1].substring(3));
          }
        }));
      }
    }
    return tests;
  }

  /** What the compiler made and the rewriter changed passes the JVM's own verifier. */
  private static void verified(Compiled compiled) throws ReflectiveOperationException {
    Cells.Loader loader = new Cells.Loader(compiled);
    for (CompiledClass one : compiled.classes()) {
      assertThat(loader.loadClass(one.name()).getDeclaredMethods()).isNotNull();
    }
  }

  @Test
  void everyNamedClassIsThere() throws Exception {
    try (ClassWorld world = new ClassWorld(Cells.CLASS_PATH)) {
      assertThat(AllowList.standard(List.of()).namedClasses())
          .hasSizeGreaterThan(100)
          .allMatch(name -> world.find(name.replace('.', '/')).isPresent());
    }
  }
}
