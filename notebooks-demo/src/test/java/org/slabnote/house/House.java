package org.slabnote.house;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;

/** The modules, what each may see of the others, and their classes. */
final class House {
  static final List<String> PLUGINS = List.of(
      "filters", "formats", "forward", "imaging", "polarization", "tables", "targets", "velocity");

  /** Classes of the main sources of every module on the class path, read once. */
  static final JavaClasses CLASSES = new ClassFileImporter()
      .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
      .importPackages("org.slabnote");

  private House() {}

  /** Module to the modules it may use; itself is understood. */
  static Map<String, Set<String>> arrows() {
    Map<String, Set<String>> arrows = new TreeMap<>();
    arrows.put("api", Set.of());
    arrows.put("methods", Set.of("api"));
    arrows.put("testkit", Set.of("api"));
    PLUGINS.forEach(plugin -> arrows.put(plugin, Set.of("api", "methods")));
    arrows.put("worker", Set.of("api"));
    arrows.put("engine", Set.of("api", "worker"));
    arrows.put("report", Set.of("api", "worker", "engine"));
    arrows.put("desktop", Set.of("api", "worker", "engine", "report"));
    arrows.put("app", Set.of("api", "worker", "engine", "report", "desktop"));
    // The demo makes its own scans: the one user of the forward models and of a writer of files.
    arrows.put("demo", Set.of("api", "methods", "forward", "formats", "app"));
    return arrows;
  }

  /** Name of the module a class belongs to: the third part of its package. */
  static String module(JavaClass type) {
    String[] parts = type.getPackageName().split("\\.", -1);
    return parts.length < 3 ? "" : parts[2];
  }

  static DescribedPredicate<JavaClass> in(String... modules) {
    Set<String> wanted = new TreeSet<>(List.of(modules));
    return DescribedPredicate.describe(
        "in " + String.join(", ", wanted),
        type -> type.getPackageName().startsWith("org.slabnote") && wanted.contains(module(type)));
  }

  static DescribedPredicate<JavaClass> outside(String... modules) {
    Set<String> unwanted = new TreeSet<>(List.of(modules));
    return DescribedPredicate.describe(
        unwanted.isEmpty() ? "of the house" : "outside " + String.join(", ", unwanted),
        type ->
            type.getPackageName().startsWith("org.slabnote") && !unwanted.contains(module(type)));
  }
}
