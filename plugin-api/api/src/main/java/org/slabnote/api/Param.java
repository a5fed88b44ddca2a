package org.slabnote.api;

import java.lang.annotation.Documented;
import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/**
 * Describes a parameter of an operation. Range, unit and doubt stand here only; messages, help and
 * what-if runs read them here.
 *
 * @since 0.1
 */
@Documented
@Retention(RetentionPolicy.RUNTIME)
@Target(ElementType.RECORD_COMPONENT)
public @interface Param {
  /** Returns what it means and how to choose it, one line. */
  String meaning();

  /** Returns the least value, inclusive, as {@code "number unit"}; empty means open; a bare number is dimensionless. */
  String from() default "";

  /** Returns the greatest value, inclusive. */
  String to() default "";

  /** Returns how far a careful colleague might choose otherwise: a percentage or an absolute half-width. */
  String doubt() default "";
}
