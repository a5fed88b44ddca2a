package org.slabnote.engine.compiler;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Notebook;
import org.slabnote.engine.document.Document;

/** What a statement does and reads is found in its byte code. */
class AnatomyTest {
  private static Compiled compile(String cell) throws Exception {
    Path api = Path.of(
        Notebook.class.getProtectionDomain().getCodeSource().getLocation().toURI());
    return new CellCompiler(
            List.of(api),
            List.of("org.slabnote.api.*", "static org.slabnote.api.Notebook.*", "java.util.*"))
        .compile(Document.parse("interpretation.md", "```java a\n" + cell + "\n```\n"));
  }

  private static List<Anatomy.Part> parts(String cell) throws Exception {
    return Anatomy.of(compile(cell)).parts();
  }

  private static List<String> readings(String cell) throws Exception {
    List<String> all = new ArrayList<>();
    for (Anatomy.Part part : parts(cell)) {
      part.readings().forEach(one -> all.add(one.of() + String.join("", one.path())));
    }
    return all;
  }

  @Test
  void onlyTheWayThatIsGoneDownIsRead() throws Exception {
    assertThat(readings("""
            var a = job().title();
            var b = job().facts().get("site.place");
            var c = job().facts().getOrDefault("site.place", "");
            var d = job().required().get(TargetClass.METAL);
            var e = survey().rows().get(0).antenna().centre();
            var f = cuts("C2").depth();
            var g = cuts().get(1).name().length();
            """))
        .containsExactly(
            "JOB.title",
            "JOB.facts@site.place",
            "JOB.facts@site.place",
            "JOB.required@METAL",
            "SURVEY.rows#0.antenna.centre",
            "CUTS@C2.depth",
            "CUTS#1.name");
  }

  @Test
  void whatIsKeptOrHandedOnIsReadAsAWhole() throws Exception {
    assertThat(readings("""
            var a = job();
            var b = job().facts().keySet();
            int at = 1;
            var c = survey().rows().get(at);
            var d = (at > 0 ? job() : a).title();
            var e = String.valueOf(cuts());
            java.util.function.Supplier<JobSheet> f = Notebook::job;
            var g = survey().has(Orientation.ACROSS);
            """))
        .containsExactly("JOB", "JOB.facts", "SURVEY.rows", "JOB", "CUTS", "JOB", "SURVEY");
  }

  @Test
  void linesCommentsAndWhatStandsAboveDoNotCount() throws Exception {
    String record = "record Peak(double x) { double twice() { return 2 * x; } }";
    Compiled first = compile("int a = 1;\n" + record + "\nvar p = new Peak(a);\np.twice();");
    Compiled second = compile("// one\nint z = 5;\nint a = 1; /* two */\n\n" + record
        + "\n\nvar p =\n  new Peak(a);\nz + 1;\np.twice();");
    List<String> before = new ArrayList<>();
    Anatomy.of(first).parts().forEach(part -> before.add(part.code()));
    List<String> after = new ArrayList<>();
    Anatomy.of(second).parts().forEach(part -> after.add(part.code()));
    assertThat(after).containsAll(before).hasSize(before.size() + 2);
    assertThat(meaning(second, "$Peak")).isEqualTo(meaning(first, "$Peak"));
    Compiled third = compile("int a = 1;\n" + record.replace("2 *", "3 *"));
    assertThat(meaning(third, "$Peak")).isNotEqualTo(meaning(first, "$Peak"));
  }

  @Test
  void aMethodThatIsCalledCountsInTheMeaning() throws Exception {
    String record = "record Peak(double x) { double twice() { return f(x); } }";
    Compiled first = compile("double f(double x) { return 2 * x; }\n" + record);
    Compiled second = compile("double f(double x) { return 3 * x; }\n" + record);
    assertThat(meaning(second, "$Peak")).isNotEqualTo(meaning(first, "$Peak"));
  }

  private static String meaning(Compiled compiled, String end) {
    String name = compiled.classes().stream()
        .map(CompiledClass::name)
        .filter(one -> one.endsWith(end))
        .findFirst()
        .orElseThrow();
    return Anatomy.of(compiled).meaning(name);
  }

  @Test
  void whatMayBeChangedInPlaceIsKnown() throws Exception {
    List<Anatomy.Part> parts = parts("""
        var list = new ArrayList<Double>();
        double number = 2;
        list.add(number);
        number + list.get(0);
        int[] counts = {0};
        counts[0] = 3;
        """);
    assertThat(parts)
        .extracting(Anatomy.Part::shared)
        .containsExactly(true, false, false, false, true, false);
    assertThat(parts.get(2).changes()).isTrue();
    assertThat(parts.get(3).changes()).isFalse();
    assertThat(parts.get(5).changes()).isTrue();
  }
}
