package org.slabnote.api.quantity;

import java.util.Collections;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * An estimate with its uncertainty budget by source (JCGM 100:2008, 5.2).
 *
 * <p>The budget maps a source to its signed contribution {@code c_i u(x_i)}, in the base unit of
 * {@code Q}: sensitivity times standard uncertainty. Sources are independent of one another, so
 * {@code u = sqrt(sum of squares)}. What two estimates share stands in both budgets under one
 * name, with its signs, and is not counted twice when they are subtracted.
 *
 * <p>Source names come from {@link org.slabnote.api.Work#source}, which makes them unique to the
 * step: {@code cell/variable#label}. The label says what it is: {@code fit, time zero, radius}.
 *
 * @param value the estimate
 * @param budget signed contributions by source, finite, in the base unit of {@code Q}; zero
 *     contributions are left out
 * @param <Q> kind of quantity
 * @since 0.1
 */
public record Measured<Q extends Quantity<Q>>(Q value, SortedMap<String, Double> budget) {

  /** The coverage factor of expanded uncertainties: about 95 % for a normal distribution (JCGM 100, 6.3.3). */
  public static final double COVERAGE = 2;

  /**
   * Copies the budget.
   *
   * @throws IllegalArgumentException if a contribution is not finite or a source has no name
   */
  public Measured {
    TreeMap<String, Double> copy = new TreeMap<>();
    for (Map.Entry<String, Double> e : budget.entrySet()) {
      double c = e.getValue();
      if (e.getKey().isBlank() || Double.isNaN(c) || Double.isInfinite(c)) {
        throw new IllegalArgumentException("uncertainty source '" + e.getKey() + "' contributes "
            + Units.plain(c, 6) + "; expected a named source and a finite number");
      }
      if (c != 0) {
        copy.put(e.getKey(), c);
      }
    }
    budget = Collections.unmodifiableSortedMap(copy);
  }

  /** Returns an estimate without uncertainty: a definition or a stated parameter. */
  public static <Q extends Quantity<Q>> Measured<Q> exact(Q value) {
    return new Measured<>(value, new TreeMap<>());
  }

  /** Returns an estimate whose standard uncertainty {@code u} has one source. */
  public static <Q extends Quantity<Q>> Measured<Q> of(Q value, String source, Q u) {
    return new Measured<>(value, new TreeMap<>(Map.of(source, u.value())));
  }

  /** Returns a builder of an estimate that depends on other ones to first order. */
  public static <Q extends Quantity<Q>> Builder<Q> about(Q value) {
    return new Builder<>(value);
  }

  /** Returns the combined standard uncertainty: root of the sum of squares, in order of source names. */
  public Q u() {
    double sum = 0;
    for (double c : budget.values()) {
      sum += c * c;
    }
    return value.of(Math.sqrt(sum));
  }

  /** Returns the expanded uncertainty, {@link #COVERAGE} times the standard uncertainty. */
  public Q u95() {
    return u().times(COVERAGE);
  }

  /** Returns the sum; shared sources add with their signs. */
  public Measured<Q> plus(Measured<Q> other) {
    return about(value.plus(other.value)).from(this, 1).from(other, 1).build();
  }

  /** Returns the difference; shared sources cancel. */
  public Measured<Q> minus(Measured<Q> other) {
    return about(value.minus(other.value)).from(this, 1).from(other, -1).build();
  }

  /** Returns this estimate {@code factor} times. */
  public Measured<Q> times(double factor) {
    return about(value.times(factor)).from(this, factor).build();
  }

  /** Returns this estimate with one more contribution; a source already there adds with its sign. */
  public Measured<Q> with(String source, Q contribution) {
    return about(value).from(this, 1).from(source, contribution.value()).build();
  }

  @Override
  public String toString() {
    return value + " (U95 " + u95() + ")";
  }

  /**
   * Gathers first-order contributions: {@code c_i = (df/dx_i) u(x_i)} (JCGM 100, 5.1.2).
   *
   * @param <Q> kind of the result
   * @since 0.1
   */
  public static final class Builder<Q extends Quantity<Q>> {
    private final Q value;
    private final TreeMap<String, Double> budget = new TreeMap<>();

    private Builder(Q value) {
      this.value = value;
    }

    /**
     * Adds all contributions of an input.
     *
     * @param input the input estimate, of any kind
     * @param sensitivity derivative of the result by the input, in base units of both
     */
    public Builder<Q> from(Measured<?> input, double sensitivity) {
      input.budget().forEach((source, c) -> budget.merge(source, sensitivity * c, Double::sum));
      return this;
    }

    /** Adds one contribution, in the base unit of the result. */
    public Builder<Q> from(String source, double contribution) {
      budget.merge(source, contribution, Double::sum);
      return this;
    }

    /** Returns the estimate. */
    public Measured<Q> build() {
      return new Measured<>(value, budget);
    }
  }
}
