package org.slabnote.api.quantity;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.Optional;

/**
 * Quantities from text and to text, the same on every machine.
 *
 * <p>Known units: {@code m mm cm in ft}, {@code ns ps}, {@code MHz GHz}, {@code m/ns}, {@code deg},
 * {@code dB}, {@code %} (a hundredth) and none (a pure number).
 *
 * @since 0.1
 */
public final class Units {
  private Units() {}

  /**
   * Returns the quantity that a text such as {@code "0.1 ns"} states.
   *
   * @throws IllegalArgumentException if the number or the unit cannot be read; the message names
   *     the text and the known units
   */
  public static Quantity<?> parse(String text) {
    String[] parts = text.strip().split("\\s+", 2);
    double number;
    try {
      number = Double.parseDouble(parts[0]);
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException(
          "'" + text + "' is no quantity; expected a number and a unit, as in 0.1 ns", e);
    }
    String unit = parts.length < 2 ? "1" : parts[1];
    return switch (unit) {
      case "m" -> Quantities.m(number);
      case "cm" -> Quantities.m(number / 100);
      case "mm" -> Quantities.mm(number);
      case "in" -> Quantities.in(number);
      case "ft" -> Quantities.ft(number);
      case "ns" -> Quantities.ns(number);
      case "ps" -> Quantities.ps(number);
      case "MHz" -> Quantities.MHz(number);
      case "GHz" -> Quantities.GHz(number);
      case "m/ns" -> Quantities.mPerNs(number);
      case "deg" -> Quantities.deg(number);
      case "dB" -> Quantities.dB(number);
      case "%" -> Quantities.ratio(number / 100);
      case "1" -> Quantities.ratio(number);
      default ->
        throw new IllegalArgumentException(
            "'" + text + "': unit " + unit
                + " is not known; expected one of m, cm, mm, in, ft, ns, ps, MHz, GHz, m/ns, deg, dB, % or none");
    };
  }

  /** Returns the range bound that {@code text} states, or nothing where it is empty (open). */
  public static Optional<Quantity<?>> bound(String text) {
    return text.isBlank() ? Optional.empty() : Optional.of(parse(text));
  }

  /** Returns the quantity as a person writes it: lengths below 1 m in mm, six significant digits at most. */
  public static String format(Quantity<?> quantity) {
    double v = quantity.value();
    if (quantity instanceof Length && Math.abs(v) < 1) {
      return plain(v * 1000, 6) + " mm";
    }
    return quantity instanceof Ratio ? plain(v, 6) : plain(v, 6) + " " + quantity.unit();
  }

  /** Returns the quantity in the unit that {@code like} is written in, as in {@code "80 ns"}. */
  public static String formatLike(Quantity<?> quantity, String like) {
    String[] parts = like.strip().split("\\s+", 2);
    if (parts.length < 2) {
      return format(quantity);
    }
    double one = parse("1 " + parts[1]).value();
    return plain(quantity.value() / one, 6) + " " + parts[1];
  }

  /**
   * Returns a number with at most {@code digits} significant digits, without exponent and without
   * trailing zeros; the same on every JDK.
   */
  public static String plain(double value, int digits) {
    if (Double.isNaN(value) || Double.isInfinite(value)) {
      return Double.isNaN(value) ? "NaN" : value > 0 ? "infinity" : "-infinity";
    }
    if (value == 0) {
      return "0";
    }
    return new BigDecimal(value)
        .round(new MathContext(digits, RoundingMode.HALF_EVEN))
        .stripTrailingZeros()
        .toPlainString();
  }

  /** Returns a number with exactly {@code decimals} decimals; the same on every JDK. */
  public static String fixed(double value, int decimals) {
    if (Double.isNaN(value) || Double.isInfinite(value)) {
      return plain(value, 1);
    }
    BigDecimal rounded = new BigDecimal(value).setScale(decimals, RoundingMode.HALF_EVEN);
    return (rounded.signum() == 0 ? rounded.abs() : rounded).toPlainString();
  }

  static double finite(double value, String unit) {
    if (Double.isNaN(value) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(
          "a quantity in " + unit + " must be a finite number, not " + plain(value, 1));
    }
    return value + 0.0; // -0.0 and 0.0 are one quantity
  }
}
