package org.slabnote.house;

import com.tngtech.archunit.core.domain.AccessTarget;
import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaClass;
import java.util.List;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.BaseStream;

/**
 * What would let a result differ between machines, runs, locales or Java versions.
 *
 * <p>Calls, method references, constructors and fields are seen; what a library does inside is not.
 */
@SuppressWarnings("ImmutableEnumChecker") // its predicates are methods of its own, its lists copies
enum Forbidden {
  /** Last bits may differ between Java versions and processors; StrictMath's may not. Pixels may. */
  LOOSE_MATHEMATICS(Forbidden::looseMathematics, "desktop", "report"),
  UNSEEDED_CHANCE(Forbidden::unseededChance),
  /** Time limits and progress need a clock; what is computed and reported does not. */
  CLOCK(Forbidden::clock, "worker", "engine", "app", "desktop", "testkit"),
  /** Only the command line writes there. */
  TERMINAL(Forbidden::terminal, "app", "demo"),
  /** The contract's tests change the locale, and put it back. */
  DEFAULT_LOCALE(Forbidden::defaultLocale, "testkit"),
  /**
   * Parallel work goes through Work.forEach, which leaves the order of sums to the caller. The demo
   * writes its files side by side and sums nothing.
   */
  PARALLEL_STREAM(Forbidden::parallelStream, "demo"),
  /** Double.toString gives other digits on newer Java for some values. */
  PRINTED_DOUBLE(Forbidden::printedDouble, "desktop", "report", "app", "demo", "testkit");

  private static final Set<String> LOOSE = Set.of(
      "sin", "cos", "tan", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "exp", "expm1",
      "log", "log10", "log1p", "pow", "cbrt", "hypot");

  private final Predicate<JavaAccess<?>> matches;
  private final List<String> exemptModules;

  Forbidden(Predicate<JavaAccess<?>> matches, String... exemptModules) {
    this.matches = matches;
    this.exemptModules = List.of(exemptModules);
  }

  boolean matches(JavaAccess<?> access) {
    return matches.test(access);
  }

  String[] exemptModules() {
    return exemptModules.toArray(String[]::new);
  }

  private static boolean looseMathematics(JavaAccess<?> access) {
    return type(access).equals("java.lang.Math") && LOOSE.contains(access.getName());
  }

  private static boolean unseededChance(JavaAccess<?> access) {
    String name = access.getName();
    int arguments = arguments(access).size();
    return switch (type(access)) {
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

  private static boolean clock(JavaAccess<?> access) {
    String name = access.getName();
    String type = type(access);
    return switch (type) {
      case "java.lang.System" -> name.equals("currentTimeMillis") || name.equals("nanoTime");
      case "java.util.Date" -> name.equals("<init>") && arguments(access).isEmpty();
      case "java.time.Clock" -> name.startsWith("system");
      default -> type.startsWith("java.time.") && name.equals("now");
    };
  }

  private static boolean terminal(JavaAccess<?> access) {
    String name = access.getName();
    boolean stream =
        type(access).equals("java.lang.System") && List.of("out", "err").contains(name);
    return stream || name.equals("printStackTrace") && arguments(access).isEmpty();
  }

  private static boolean defaultLocale(JavaAccess<?> access) {
    if (arguments(access).contains("java.util.Locale")) {
      return false;
    }
    String name = access.getName();
    boolean created = name.equals("<init>");
    return switch (type(access)) {
      case "java.lang.String" ->
        List.of("format", "formatted", "toLowerCase", "toUpperCase").contains(name);
      case "java.io.PrintStream", "java.io.PrintWriter" ->
        List.of("format", "printf").contains(name);
      case "java.util.Formatter", "java.text.SimpleDateFormat", "java.text.MessageFormat" ->
        created;
      case "java.text.NumberFormat" -> name.endsWith("nstance");
      case "java.text.DecimalFormat" ->
        created && !arguments(access).contains("java.text.DecimalFormatSymbols");
      case "java.text.DecimalFormatSymbols" -> created || name.equals("getInstance");
      case "java.time.format.DateTimeFormatter" -> name.equals("ofPattern");
      case "java.util.Locale", "java.util.TimeZone" -> name.equals("getDefault");
      case "java.nio.charset.Charset" -> name.equals("defaultCharset");
      case "java.time.ZoneId" -> name.equals("systemDefault");
      default -> false;
    };
  }

  private static boolean parallelStream(JavaAccess<?> access) {
    return access.getName().equals("parallelStream")
        || access.getName().equals("parallel")
            && access.getTargetOwner().isAssignableTo(BaseStream.class);
  }

  private static boolean printedDouble(JavaAccess<?> access) {
    String name = access.getName();
    boolean number = arguments(access).equals(List.of("double"));
    return switch (type(access)) {
      case "java.lang.Double" -> name.equals("toString");
      case "java.lang.String", "java.math.BigDecimal" -> name.equals("valueOf") && number;
      case "java.lang.StringBuilder" -> name.equals("append") && number;
      default -> false;
    };
  }

  private static String type(JavaAccess<?> access) {
    return access.getTargetOwner().getName();
  }

  private static List<String> arguments(JavaAccess<?> access) {
    return access.getTarget() instanceof AccessTarget.CodeUnitAccessTarget unit
        ? unit.getRawParameterTypes().stream().map(JavaClass::getName).toList()
        : List.of();
  }
}
