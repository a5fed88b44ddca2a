package org.slabnote.house;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.AccessTarget;
import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaClass;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;

/**
 * Nothing that differs between machines, runs, locales or Java versions gets into a result.
 *
 * <p>Calls, method references and constructors are all seen; what a library does inside is not.
 */
@EnabledIf("org.slabnote.house.House#stands")
class SameEverywhereTest {
  /** Their last bits may differ between Java versions and processors; StrictMath's may not. */
  private static final Set<String> LOOSE = Set.of(
      "sin", "cos", "tan", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "exp", "expm1",
      "log", "log10", "log1p", "pow", "cbrt", "hypot");

  @Test
  void resultsUseStrictMath() {
    // Pixels are not results: the window and the figures may draw with Math.
    none(
        "Math.sin and its kin",
        access -> owner(access, Math.class) && LOOSE.contains(access.getName()),
        "desktop",
        "report");
  }

  @Test
  void chanceIsSeeded() {
    none("unseeded chance", SameEverywhereTest::unseeded);
  }

  private static boolean unseeded(JavaAccess<?> access) {
    String type = access.getTargetOwner().getName();
    String name = access.getName();
    int arguments = arguments(access).size();
    return switch (type) {
      case "java.lang.Math", "java.lang.StrictMath" -> name.equals("random");
      case "java.util.Random", "java.util.SplittableRandom" ->
        name.equals("<init>") && arguments == 0;
      case "java.util.concurrent.ThreadLocalRandom", "java.security.SecureRandom" -> true;
      case "java.util.UUID" -> name.equals("randomUUID");
      case "java.util.Collections" -> name.equals("shuffle") && arguments == 1;
      case "java.util.random.RandomGenerator" -> name.equals("getDefault") || name.equals("of");
      case "java.util.random.RandomGeneratorFactory" -> name.equals("create") && arguments == 0;
      default -> false;
    };
  }

  @Test
  void onlyTheProcessesLookAtTheClock() {
    // Time limits and progress need a clock; what is computed and reported does not.
    none("the clock", SameEverywhereTest::clock, "worker", "engine", "app", "desktop");
  }

  private static boolean clock(JavaAccess<?> access) {
    String type = access.getTargetOwner().getName();
    String name = access.getName();
    return switch (type) {
      case "java.lang.System" -> name.equals("currentTimeMillis") || name.equals("nanoTime");
      case "java.util.Date" -> name.equals("<init>") && arguments(access).isEmpty();
      case "java.time.Clock" -> name.startsWith("system");
      default -> type.startsWith("java.time.") && name.equals("now");
    };
  }

  @Test
  void onlyTheCommandLineWritesToTheTerminal() {
    none(
        "the terminal",
        access -> owner(access, System.class) && List.of("out", "err").contains(access.getName())
            || access.getName().equals("printStackTrace") && arguments(access).isEmpty(),
        "app",
        "demo");
  }

  @Test
  void noTextHangsOnTheLocale() {
    none("the default locale", SameEverywhereTest::defaultLocale);
  }

  private static boolean defaultLocale(JavaAccess<?> access) {
    String type = access.getTargetOwner().getName();
    String name = access.getName();
    List<String> arguments = arguments(access);
    boolean named = arguments.contains("java.util.Locale");
    return switch (type) {
      case "java.lang.String" ->
        name.equals("formatted")
            || !named && List.of("format", "toLowerCase", "toUpperCase").contains(name);
      case "java.io.PrintStream", "java.io.PrintWriter" ->
        !named && List.of("format", "printf").contains(name);
      case "java.util.Formatter" -> !named && name.equals("<init>");
      case "java.text.NumberFormat", "java.text.MessageFormat", "java.text.Collator" ->
        !named
            && (name.startsWith("get") && name.endsWith("Instance")
                || name.equals("<init>")
                || name.equals("format")
                    && arguments.size() == 2
                    && arguments.get(0).equals("java.lang.String"));
      case "java.text.DecimalFormat",
          "java.text.SimpleDateFormat",
          "java.text.DecimalFormatSymbols" ->
        name.equals("<init>") && !named && !arguments.contains("java.text.DecimalFormatSymbols");
      case "java.time.format.DateTimeFormatter" -> !named && name.equals("ofPattern");
      case "java.util.Locale" -> name.equals("getDefault");
      case "java.util.TimeZone", "java.nio.charset.Charset" ->
        name.equals("getDefault") || name.equals("defaultCharset");
      case "java.time.ZoneId" -> name.equals("systemDefault");
      default -> false;
    };
  }

  @Test
  void sumsRunInOneOrder() {
    // Parallel work goes through Work.forEach, which leaves the order of sums to the caller.
    none(
        "parallel streams",
        access -> access.getName().equals("parallelStream")
            || access.getName().equals("parallel")
                && access.getTargetOwner().isAssignableTo(java.util.stream.BaseStream.class));
  }

  /** Double.toString gives other digits on newer Java for some values. */
  @Test
  void numbersInRecordsAreNotPrintedByTheJdk() {
    none(
        "the JDK's printing of doubles",
        SameEverywhereTest::printsDouble,
        "desktop",
        "report",
        "app",
        "demo",
        "testkit");
  }

  private static boolean printsDouble(JavaAccess<?> access) {
    String type = access.getTargetOwner().getName();
    String name = access.getName();
    boolean number = arguments(access).equals(List.of("double"));
    return switch (type) {
      case "java.lang.Double" -> name.equals("toString");
      case "java.lang.String", "java.math.BigDecimal" -> name.equals("valueOf") && number;
      case "java.lang.StringBuilder" -> name.equals("append") && number;
      default -> false;
    };
  }

  private static void none(
      String what, java.util.function.Predicate<JavaAccess<?>> forbidden, String... except) {
    noClasses()
        .that(House.outside(except))
        .should()
        .accessTargetWhere(DescribedPredicate.describe(what, forbidden::test))
        .check(House.CLASSES);
  }

  private static boolean owner(JavaAccess<?> access, Class<?> type) {
    return access.getTargetOwner().isEquivalentTo(type);
  }

  private static List<String> arguments(JavaAccess<?> access) {
    return access.getTarget() instanceof AccessTarget.CodeUnitAccessTarget unit
        ? unit.getRawParameterTypes().stream().map(JavaClass::getName).collect(Collectors.toList())
        : List.of();
  }
}
