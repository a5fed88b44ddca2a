package org.slabnote.api;

import java.lang.annotation.Documented;
import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/**
 * Names an operation.
 *
 * @since 0.1
 */
@Documented
@Retention(RetentionPolicy.RUNTIME)
@Target(ElementType.TYPE)
public @interface Op {
  /** Returns the id: the plugin's prefix, a dot, a lower-case name, as in {@code filters.dewow}. */
  String id();

  /** Returns the revision, raised by whatever changes a result. */
  int revision();

  /** Returns what it is for. */
  Purpose purpose();
}
