package org.slabnote.house;

import java.math.BigDecimal;
import java.text.DecimalFormat;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.UUID;
import java.util.concurrent.ThreadLocalRandom;
import java.util.function.DoubleUnaryOperator;
import java.util.function.Supplier;
import java.util.stream.DoubleStream;

/** One offence a line, so that each rule can be seen to work. */
@SuppressWarnings("all") // every line here is wrong on purpose
final class Offences {
  static final Map<Forbidden, Integer> LINES = Map.of(
      Forbidden.LOOSE_MATHEMATICS, 3,
      Forbidden.UNSEEDED_CHANCE, 5,
      Forbidden.CLOCK, 3,
      Forbidden.TERMINAL, 3,
      Forbidden.DEFAULT_LOCALE, 5,
      Forbidden.PARALLEL_STREAM, 2,
      Forbidden.PRINTED_DOUBLE, 3);

  private Offences() {}

  static void loose_mathematics(double x) {
    use(Math.pow(x, 2));
    DoubleUnaryOperator reference = Math::tanh;
    DoubleUnaryOperator lambda = y -> Math.sin(y);
    use(StrictMath.sin(x) + Math.sqrt(x)); // no offence
  }

  static void unseeded_chance() {
    use(Math.random());
    use(new Random());
    Supplier<Random> reference = Random::new;
    use(ThreadLocalRandom.current());
    use(UUID.randomUUID());
    use(new Random(1)); // no offence
  }

  static void clock() {
    use(System.nanoTime());
    use(Instant.now());
    Supplier<Instant> reference = Instant::now;
  }

  static void terminal(Exception cause) {
    System.out.println();
    System.err.println();
    cause.printStackTrace();
  }

  static void default_locale(String text) {
    use(text.toUpperCase());
    use(String.format("%d", 1));
    use("%d".formatted(1));
    use(new DecimalFormat("0.0"));
    use(java.util.Locale.getDefault());
    use(text.toUpperCase(java.util.Locale.ROOT)); // no offence
  }

  static void parallel_stream(List<Double> values) {
    use(values.parallelStream());
    use(DoubleStream.of(1).parallel());
  }

  static void printed_double(double x) {
    use(Double.toString(x));
    use(BigDecimal.valueOf(x));
    use(new StringBuilder().append(x));
    use(new BigDecimal(x)); // no offence
  }

  private static void use(Object value) {}
}
