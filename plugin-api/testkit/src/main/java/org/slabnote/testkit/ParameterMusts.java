package org.slabnote.testkit;

import java.util.Arrays;
import java.util.Optional;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Op;
import org.slabnote.api.Operations;
import org.slabnote.api.Param;
import org.slabnote.api.codec.Canonical;
import org.slabnote.api.quantity.Quantity;
import org.slabnote.api.quantity.Units;

/** What an operation must say of itself and its parameters. */
final class ParameterMusts {
  private static final Pattern ID = Pattern.compile("[a-z][a-z0-9]*\\.[a-z][a-z0-9-]*");

  private ParameterMusts() {}

  static void described(Subject subject) {
    Op op = Operations.describe(subject.record().getClass());
    if (!ID.matcher(op.id()).matches()) {
      throw new AssertionError(
          "id = " + op.id() + "; expected plugin.name, lower case, with hyphens");
    }
    if (op.revision() < 1) {
      throw new AssertionError(op.id() + ": revision = " + op.revision() + "; expected 1 or more");
    }
    for (Operations.Component c : Operations.components(subject.record().getClass())) {
      if (!c.input()) {
        described(op.id() + ": " + c.name(), c, subject.value(c.name()));
      }
    }
    Operations.check(subject.record());
  }

  private static void described(String where, Operations.Component c, Object value) {
    if (c.type().isArray()) {
      throw new AssertionError(where + " is an array; expected a list, which compares by content");
    }
    if (c.param().isEmpty() || c.param().get().meaning().isBlank()) {
      throw new AssertionError(
          where + " has no @Param with a meaning; say what it is and how to choose it");
    }
    Param p = c.param().get();
    for (String bound : new String[] {p.from(), p.to(), p.doubt()}) {
      Optional<Quantity<?>> parsed = Units.bound(bound);
      boolean share = bound.equals(p.doubt()) && bound.strip().endsWith("%");
      if (parsed.isPresent()
          && inner(value) instanceof Quantity<?> q
          && !share
          && parsed.get().getClass() != q.getClass()) {
        throw new AssertionError(where + " is in " + q.unit() + ", but its @Param says '" + bound
            + "'; expected the same kind");
      }
    }
  }

  static void survive(Subject subject) {
    ClassLoader loader = subject.record().getClass().getClassLoader();
    subject.parameters().forEach((name, value) -> {
      byte[] bytes = Canonical.encode(value);
      Object back = Canonical.decode(bytes, loader);
      if (!back.equals(value) || !Arrays.equals(bytes, Canonical.encode(back))) {
        throw new AssertionError(
            subject.id() + ": " + name + " = " + value + " comes back from its encoding as " + back
                + "; expected an equal value. Its type must compare by content");
      }
    });
  }

  static void rangesRefused(Subject subject) {
    for (Operations.Component c : Operations.components(subject.record().getClass())) {
      if (c.param().isPresent() && !c.input()) {
        Param p = c.param().get();
        Object value = subject.value(c.name());
        Units.bound(p.from()).ifPresent(b -> refused(subject, c, beyond(value, b, -1)));
        Units.bound(p.to()).ifPresent(b -> refused(subject, c, beyond(value, b, 1)));
      }
    }
  }

  private static void refused(Subject subject, Operations.Component c, @Nullable Object outside) {
    if (outside == null) {
      return;
    }
    Param p = c.param().orElseThrow();
    String what = subject.id() + ": " + c.name() + " = " + inner(outside);
    try {
      Object built = Subject.with(subject.record(), c.name(), outside);
      Operations.check(built);
    } catch (IllegalArgumentException e) {
      String said = String.valueOf(e.getMessage());
      String like = p.from().isBlank() ? p.to() : p.from();
      String shown = inner(outside) instanceof Quantity<?> q
          ? Units.formatLike(q, like)
          : Units.plain(((Number) inner(outside)).doubleValue(), 6);
      for (String part : new String[] {c.name(), shown, p.from(), p.to()}) {
        if (!said.contains(part)) {
          throw new AssertionError(what + " is refused without naming '" + part + "': " + said, e);
        }
      }
      return;
    }
    throw new AssertionError(
        what + " is not refused; its @Param says " + p.from() + " to " + p.to());
  }

  /** A value of the same kind a little beyond a bound; null where the kind has none. */
  private static @Nullable Object beyond(Object value, Quantity<?> bound, int side) {
    if (value instanceof Optional<?> optional) {
      Object inside = optional.isPresent() ? beyond(optional.get(), bound, side) : null;
      return inside == null ? null : Optional.of(inside);
    }
    double at = bound.value();
    double outside = at + side * Math.max(Math.abs(at) / 64, 0.0009765625);
    if (value instanceof Quantity<?> q) {
      return q.of(outside);
    }
    if (value instanceof Integer) {
      return (int) at + side;
    }
    if (value instanceof Long) {
      return (long) at + side;
    }
    return value instanceof Double ? outside : null;
  }

  private static Object inner(Object value) {
    return value instanceof Optional<?> optional && optional.isPresent() ? optional.get() : value;
  }
}
