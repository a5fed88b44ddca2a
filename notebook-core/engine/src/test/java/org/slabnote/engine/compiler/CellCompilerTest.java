package org.slabnote.engine.compiler;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassVisitor;
import org.objectweb.asm.Label;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.Opcodes;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

class CellCompilerTest {
  private static final List<String> IMPORTS =
      List.of("java.util.*", "java.util.function.*", "java.util.stream.*");

  @Test
  void givesTheStatementsInOrderWithWhatTheyDefineAndRead() throws BadInput {
    Compiled compiled = compile("""
            ```java first
            // a comment
            var a = 1;
            int twice(int x) {
              return 2 * x;
            }
            record Cover(double mm) {}
            ```
            words
            ```java second
            var b = twice(a) + 1;
            List<Cover> covers = List.of(new Cover(3));
            for (int i = 0; i < 3; i++) {
              a += i;
            }
            covers.size()
            ```
            """);
    assertThat(compiled.statements())
        .extracting(
            s -> s.cell() + ":" + s.line() + " " + s.kind() + " " + s.defines() + " " + s.type())
        .containsExactly(
            "first:2 VARIABLE a int",
            "first:3 METHOD twice ",
            "first:6 TYPE Cover ",
            "second:1 VARIABLE b int",
            "second:2 VARIABLE covers List<Cover>",
            "second:3 STATEMENT  ",
            "second:6 EXPRESSION  ");
    assertThat(compiled.statements())
        .extracting(s -> String.join(",", s.reads()))
        .containsExactly("", "", "", "a,twice", "Cover", "a", "covers");
    assertThat(compiled.statements())
        .extracting(s -> String.join(",", s.writes()))
        .containsExactly("", "", "", "", "", "a", "");
    assertThat(compiled.statements())
        .extracting(Statement::method)
        .containsExactly("do_it$", "", "", "do_it$", "do_it$", "do_it$", "do_it$");
    assertThat(compiled.classes()).isNotEmpty();
  }

  @Test
  void classFilesCarryTheCellsNameAndLines() throws BadInput {
    Compiled compiled =
        compile("```java first\nvar a = 1;\n\nvar b =\n    Integer\n    .parseInt(\"x\");\n```\n");
    List<String> lines = new java.util.ArrayList<>();
    for (CompiledClass one : compiled.classes()) {
      new ClassReader(one.bytes())
          .accept(
              new ClassVisitor(Opcodes.ASM9) {
                @Override
                public void visitSource(String source, String debug) {
                  lines.add(source);
                }

                @Override
                public MethodVisitor visitMethod(int a, String n, String d, String s, String[] e) {
                  return new MethodVisitor(Opcodes.ASM9) {
                    @Override
                    public void visitLineNumber(int line, Label start) {
                      if (n.equals("do_it$")) {
                        lines.add("" + line);
                      }
                    }
                  };
                }
              },
              0);
    }
    assertThat(lines).startsWith("first", "1").contains("5").doesNotContain("9");
  }

  @Test
  void tellsTheCellTheLineInTheFileAndTheCompilersMessage() {
    assertThat(problem("Words.\n\n```java first\nvar a = 1;\nString s = a;\n```\n"))
        .isEqualTo("cell first, line 5: incompatible types: int cannot be converted to String");
    assertThat(problem("```java first\nvar a = List.of(\n  1,\n  nope);\n```\n"))
        .isEqualTo("cell first, line 4: cannot find symbol: variable nope");
    assertThat(problem("```java first\nvar a = \"x\".lenght();\n```\n"))
        .isEqualTo("cell first, line 2: cannot find symbol: method lenght() in class String");
  }

  @Test
  void aNameThatIsDefinedBelowIsToldWithItsPlace() {
    assertThat(problem(
            "```java first\nvar a = later + 1;\n```\n```java second\nvar later = 2;\n```\n"))
        .isEqualTo(
            "cell first, line 2: cannot find symbol: variable later, which cell second, line 5 "
                + "defines after it. Move that definition above");
  }

  @Test
  void wrongNumbersOfArgumentsReadInOneLine() {
    assertThat(problem("```java first\nrecord Cover(double mm) {}\nvar c = new Cover();\n```\n"))
        .isEqualTo("cell first, line 3: constructor Cover takes (double), not ()");
    assertThat(problem("```java first\nvar a = 1 + List.of();\nint b = List.of() * 2;\n```\n"
            .replace("var a = 1 + List.of();\n", "")))
        .isEqualTo(
            "cell first, line 2: bad operand types of binary operator '*': List<Object> and int. "
                + "Quantities have the methods plus, minus, times and over");
  }

  @Test
  void unsuitableArgumentsReadInOneLine() {
    assertThat(problem("```java first\nvar a = new String(3, 4, 5);\n```\n"))
        .startsWith("cell first, line 2: no suitable constructor found for String(int,int,int); ")
        .doesNotContain("\n");
  }

  @Test
  void tellsEveryIndependentErrorButNoneThatFollowsFromAnother() {
    List<Problem> problems = problems(
        "```java first\nvar a = nope;\nvar b = a + 1;\n```\n```java second\nint c = \"\";\n```\n");
    assertThat(problems)
        .extracting(Problem::toString)
        .containsExactly(
            "cell first, line 2: cannot find symbol: variable nope",
            "cell second, line 6: incompatible types: String cannot be converted to int");
  }

  @Test
  void aNameDefinedTwiceNamesBothCells() {
    assertThat(problem("```java first\nvar a = 1;\n```\n```java second\nvar a = 2;\n```\n"))
        .isEqualTo("cell second, line 5: the name a is defined already in cell first, line 2. "
            + "A name is defined once in a notebook: give one of the two another name");
    assertThat(
            problem(
                "```java first\nint f(int a) { return a; }\n```\n```java second\nint f(long a) { return 1; }\n```\n"))
        .isEqualTo("cell second, line 5: the name f is defined already in cell first, line 2. "
            + "A name is defined once in a notebook: give one of the two another name");
  }

  @Test
  void overloadsInOneCellAreAllowed() throws BadInput {
    assertThat(
            compile("```java first\nint f(int a) { return a; }\nint f(long a) { return 1; }\n```\n")
                .statements())
        .hasSize(2);
  }

  /** A method of one's own that hides an imported one would set an earlier variable to null. */
  @Test
  void aDefinitionThatChangesAnEarlierLineNamesBothCells() {
    assertThat(problem("```java first\nimport static java.lang.StrictMath.*;\nvar a = abs(-1.0);\n"
            + "```\n```java second\ndouble abs(double x) { return 7; }\n```\n"))
        .isEqualTo("cell second, line 6: this changes what a in cell first, line 3 means. "
            + "Give it a name that nothing above uses, or move it above that line");
  }

  @Test
  void aMethodThatUsesALaterNameNamesBothCells() {
    assertThat(problem(
            "```java first\nint f() { return later; }\n```\n```java second\nvar later = 2;\n```\n"))
        .isEqualTo(
            "cell first, line 2: f uses variable later, which cell second, line 5 defines after it. "
                + "Move that definition above");
  }

  @Test
  void aMethodThatUsesAnUnknownNameIsRefused() {
    assertThat(problem("```java first\nint f() { return never; }\n```\n"))
        .isEqualTo("cell first, line 2: f uses variable never, which nothing defines. "
            + "Define it in a cell above");
  }

  @Test
  void anUnfinishedStatementIsTold() {
    assertThat(problem("```java first\nvar a = List.of(1,\n  2;\n```\n"))
        .startsWith("cell first, line ");
    assertThat(problem("```java first\nvar a = 1;\nvar b = foo(\n```\n"))
        .isEqualTo(
            "cell first, line 3: the statement that begins here does not end within the cell: "
                + "\"var b = foo(\". Perhaps a bracket, a brace or a quotation mark is not closed");
  }

  @Test
  void compiledCellsSurviveTheirEncoding() throws Exception {
    Compiled compiled =
        compile("```java first\nvar a = 1;\nimport java.util.List;\nvar b = a;\n```\n");
    Compiled back = CompiledCodec.decode(CompiledCodec.encode(compiled));
    assertThat(back.statements()).isEqualTo(compiled.statements());
    assertThat(back.classes()).hasSameSizeAs(compiled.classes());
    assertThat(back.classes().get(0).bytes())
        .isEqualTo(compiled.classes().get(0).bytes());
  }

  @Test
  void transcendentalFunctionsAreMadeStrict() throws BadInput {
    Compiled compiled = compile(
        "```java first\nvar a = Math.tanh(0.3);\nDoubleUnaryOperator f = Math::cbrt;\n```\n");
    for (CompiledClass one : compiled.classes()) {
      assertThat(new String(one.bytes(), java.nio.charset.StandardCharsets.ISO_8859_1))
          .doesNotContain("java/lang/Math");
    }
  }

  private static Compiled compile(String text) throws BadInput {
    Document document = Document.parse("interpretation.md", text).orRefuse();
    return new CellCompiler(List.of(), IMPORTS).compile(document);
  }

  private static List<Problem> problems(String text) {
    try {
      compile(text);
      return fail("compiled, though it should not");
    } catch (BadInput bad) {
      return bad.problems();
    }
  }

  private static String problem(String text) {
    List<Problem> problems = problems(text);
    assertThat(problems).hasSize(1);
    return problems.get(0).toString();
  }
}
