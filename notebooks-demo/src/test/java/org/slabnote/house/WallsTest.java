package org.slabnote.house;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideOutsideOfPackage;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaField;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.domain.JavaPackage;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.NullMarked;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Who may see whom. */
class WallsTest {
  @Test
  void everyModuleIsScannedAndEveryScannedModuleIsListed() {
    Set<String> found =
        House.CLASSES.stream().map(House::module).collect(Collectors.toCollection(TreeSet::new));
    assertThat(found).containsExactlyElementsOf(House.arrows().keySet());
  }

  static Stream<String> modules() {
    return House.arrows().keySet().stream();
  }

  @ParameterizedTest
  @MethodSource("modules")
  void arrowsRunOneWay(String module) {
    List<String> seen = new ArrayList<>(House.arrows().getOrDefault(module, Set.of()));
    seen.add(module);
    classes()
        .that(House.in(module))
        .should()
        .onlyDependOnClassesThat(
            resideOutsideOfPackage("org.slabnote..").or(House.in(seen.toArray(String[]::new))))
        .check(House.CLASSES);
  }

  @Test
  void theApiNeedsTheJdkAndNullnessOnly() {
    classes()
        .that(House.in("api"))
        .should()
        .onlyDependOnClassesThat(
            resideInAnyPackage("java..", "org.jspecify..", "org.slabnote.api.."))
        .check(House.CLASSES);
  }

  /** A heavy or unstable library sits behind one module of ours, so that it can be replaced. */
  @ParameterizedTest
  @CsvSource({
    "tech.tablesaw.., tables",
    "org.jtransforms.., methods",
    "org.objectweb.asm.., engine",
    "javafx.., desktop",
    "org.fxmisc.., desktop",
    "jdk.jshell.., engine",
    "picocli.., app",
  })
  void aLibraryStaysBehindItsModule(String library, String module) {
    noClasses()
        .that(House.outside(module))
        .should()
        .dependOnClassesThat()
        .resideInAPackage(library)
        .check(House.CLASSES);
  }

  /** JTransforms and RichTextFX each sit behind one class: the rest of the house never names them. */
  @ParameterizedTest
  @CsvSource({"org.jtransforms", "org.fxmisc.richtext"})
  void oneClassNamesTheLibrary(String library) {
    Set<String> users = House.CLASSES.stream()
        .filter(type -> type.getDirectDependenciesFromSelf().stream()
            .anyMatch(d -> d.getTargetClass().getPackageName().startsWith(library)))
        .map(WallsTest::outermost)
        .collect(Collectors.toCollection(TreeSet::new));
    assertThat(users).hasSize(1);
  }

  /** Whatever ran before in a worker process must not change what a step gives. */
  @Test
  void pluginsKeepNoStateInStaticFields() {
    Set<String> kept = House.CLASSES.stream()
        .filter(House.in(
            Stream.concat(House.PLUGINS.stream(), Stream.of("methods")).toArray(String[]::new)))
        .flatMap(type -> type.getFields().stream())
        .filter(field -> field.getModifiers().contains(JavaModifier.STATIC))
        .filter(field -> !field.getModifiers().contains(JavaModifier.FINAL) || changes(field))
        .map(JavaField::getFullName)
        .collect(Collectors.toCollection(TreeSet::new));
    assertThat(kept).isEmpty();
  }

  private static boolean changes(JavaField field) {
    String type = field.getRawType().getName();
    return type.startsWith("java.util.concurrent.")
        || type.equals("java.lang.ThreadLocal")
        || type.matches("java\\.util\\.(Linked|Hash|Tree|Array|Weak)\\w+");
  }

  @Test
  void packagesFormNoCycles() {
    slices().matching("org.slabnote.(**)").should().beFreeOfCycles().check(House.CLASSES);
  }

  @Test
  void everyPackageIsNullMarked() {
    Map<String, Boolean> marked = House.CLASSES.stream()
        .map(JavaClass::getPackage)
        .distinct()
        .collect(Collectors.toMap(
            JavaPackage::getName,
            p -> p.tryGetAnnotationOfType(NullMarked.class).isPresent()));
    assertThat(marked).isNotEmpty();
    assertThat(marked).allSatisfy((name, yes) -> assertThat(yes).as(name).isTrue());
  }

  private static String outermost(JavaClass type) {
    return type.getEnclosingClass().map(WallsTest::outermost).orElse(type.getName());
  }
}
