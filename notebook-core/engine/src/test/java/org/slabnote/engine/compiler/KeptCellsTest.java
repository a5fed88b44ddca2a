package org.slabnote.engine.compiler;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;

/** A compiler that keeps what stands before an edit gives what one that starts anew gives. */
class KeptCellsTest {
  private static final List<String> IMPORTS = List.of("java.util.*", "java.util.function.*");

  /** Texts that cells come from: sound ones, ones that need others, clashing, broken and odd ones. */
  private static final List<String> TEXTS = List.of(
      "var a = 1;",
      "var a = 1.5; // another type\nvar a2 = a;",
      "int twice(int x) { return 2 * x; }",
      "int twice(int x) { return x + x; }\ndouble twice(double x) { return 2 * x; }",
      "double twice(double x) { return 2.5 * x; }",
      "var b = a + 1;",
      "var c = twice(3);",
      "record Bar(int mm) {}\nvar bar = new Bar(16);",
      "record Bar(int mm, String name) {}\nvar bar = new Bar(16, \"top\");",
      "var mm = bar.mm();",
      "import java.math.*;",
      "var big = new BigDecimal(\"1.5\");",
      "sealed interface Seen permits Yes, No {}\nrecord Yes() implements Seen {}\n"
          + "record No() implements Seen {}",
      "Seen seen = new Yes();",
      "Function<Integer, Integer> f = x -> x + a;",
      "for (int i = 0; i < 3; i++) {\n  a += i;\n}",
      "if (a > 1) {\n  a = 2;\n}",
      "enum Mat { TOP, BOTTOM }\nvar mat = Mat.TOP;",
      "class Sum { int of(List<Integer> all) { int s = 0; for (int x : all) s += x; return s; } }",
      "var sum = new Sum().of(List.of(1, 2));",
      "a + 1;\n\"text\" + a;",
      "var wrong = nothing;",
      "var open = (1;",
      "List<Integer> list = new ArrayList<>();\nlist.add(a);",
      "String text = \"\"\"\n  two\n  lines\"\"\";",
      "interface Reader { int read(); }\nReader reader = () -> 3;",
      "class List {}",
      "int later() { return notYet(); }",
      "int notYet() { return 4; }");

  private record Cell(String name, String text) {}

  private static Document document(List<Cell> cells, int blank) {
    StringBuilder text = new StringBuilder("# Slab\n" + "\n".repeat(blank));
    for (Cell cell : cells) {
      text.append("\n```java ").append(cell.name()).append('\n');
      text.append(cell.text()).append("\n```\n");
    }
    return Document.parse("interpretation.md", text.toString());
  }

  private static String outcome(CellCompiler compiler, Document document) {
    try {
      return described(compiler.compile(document));
    } catch (BadInput bad) {
      return "refused: " + bad.problems();
    }
  }

  private static String described(Compiled compiled) {
    Map<String, String> classes = new TreeMap<>();
    for (CompiledClass one : compiled.classes()) {
      classes.put(
          one.name(),
          one.cell() + " " + one.statement() + " " + HexFormat.of().formatHex(one.bytes()));
    }
    return compiled.statements() + "\n" + classes;
  }

  /** 3 notebooks, 25 edits each, seeds 1 to 3: each edit compiled by both. */
  @Test
  void keepingChangesNothing() {
    int accepted = 0;
    int refused = 0;
    Map<String, String> anew = new LinkedHashMap<>();
    for (int seed = 1; seed <= 3; seed++) {
      Random random = new Random(seed);
      List<Cell> cells = new ArrayList<>(List.of(
          new Cell("c0", TEXTS.get(0)),
          new Cell("c1", TEXTS.get(2)),
          new Cell("c2", TEXTS.get(7)),
          new Cell("c3", TEXTS.get(5))));
      int next = 4;
      try (CellCompiler keeping = new CellCompiler(List.of(), IMPORTS)) {
        for (int edit = 0; edit < 25; edit++) {
          Document document = document(cells, edit % 3);
          String expected = anew.computeIfAbsent(document.text(), text -> {
            try (CellCompiler fresh = new CellCompiler(List.of(), IMPORTS)) {
              return outcome(fresh, document);
            }
          });
          assertThat(outcome(keeping, document))
              .as("seed %d, edit %d: %s", seed, edit, cells)
              .isEqualTo(expected);
          if (expected.startsWith("refused")) {
            refused++;
            cells.remove(cells.size() - 1);
          } else {
            accepted++;
          }
          next = edit(cells, random, next);
        }
      }
    }
    assertThat(accepted).isGreaterThan(20);
    assertThat(refused).isGreaterThan(10);
  }

  private static int edit(List<Cell> cells, Random random, int next) {
    String text = TEXTS.get(random.nextInt(TEXTS.size()));
    int at = cells.isEmpty() ? 0 : random.nextInt(cells.size());
    int what = cells.size() < 3 ? 2 : random.nextInt(cells.size() > 9 ? 2 : 5);
    if (what == 0) {
      cells.remove(at);
    } else if (what == 1) {
      cells.set(at, new Cell(cells.get(at).name(), text));
    } else {
      cells.add(random.nextInt(3) == 0 ? at : cells.size(), new Cell("c" + next, text));
    }
    return next + 1;
  }
}
