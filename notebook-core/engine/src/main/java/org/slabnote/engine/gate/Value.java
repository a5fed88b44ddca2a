package org.slabnote.engine.gate;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.analysis.BasicValue;

/** What is known of a value on the stack or in a local variable, before anything runs. */
final class Value extends BasicValue {
  private static final int MOST_TEXTS = 16;

  /** Whether the value is of this very class, and of no class below it. */
  final boolean exact;

  /** Type with its type arguments, where the class file tells. */
  final @Nullable String signature;

  /** The texts that it can be; empty where they are not known. */
  final List<String> texts;

  /** Where it was made, or read from a field; null where there are several places. */
  final @Nullable AbstractInsnNode origin;

  /** For a {@code Class}: what it is the class of. */
  final @Nullable Value classOf;

  private Value(
      Type type,
      boolean exact,
      @Nullable String signature,
      List<String> texts,
      @Nullable AbstractInsnNode origin,
      @Nullable Value classOf) {
    super(type);
    this.exact = exact;
    this.signature = signature;
    this.texts = List.copyOf(texts);
    this.origin = origin;
    this.classOf = classOf;
  }

  static Value of(Type type) {
    return new Value(type, false, null, List.of(), null, null);
  }

  static Value of(Type type, @Nullable String signature, @Nullable AbstractInsnNode origin) {
    return new Value(type, false, signature, List.of(), origin, null);
  }

  static Value made(Type type, AbstractInsnNode origin) {
    return new Value(type, true, null, List.of(), origin, null);
  }

  static Value text(String text) {
    return new Value(Type.getObjectType("java/lang/String"), true, null, List.of(text), null, null);
  }

  static Value classOf(Value value) {
    return new Value(Type.getObjectType("java/lang/Class"), true, null, List.of(), null, value);
  }

  /** What either of two values is. */
  Value or(Value other, Type common) {
    List<String> both = new ArrayList<>();
    if (!texts.isEmpty() && !other.texts.isEmpty()) {
      both.addAll(texts);
      other.texts.stream().filter(text -> !both.contains(text)).forEach(both::add);
    }
    return new Value(
        common,
        exact && other.exact && getType().equals(other.getType()),
        Objects.equals(signature, other.signature) ? signature : null,
        both.size() > MOST_TEXTS ? List.of() : both,
        origin == other.origin ? origin : null, // the same place of the same list
        Objects.equals(classOf, other.classOf) ? classOf : null);
  }

  @Override
  @SuppressWarnings("ReferenceEquality") // an instruction is its place
  public boolean equals(@Nullable Object other) {
    return other instanceof Value v
        && getType().equals(v.getType())
        && exact == v.exact
        && Objects.equals(signature, v.signature)
        && texts.equals(v.texts)
        && origin == v.origin
        && Objects.equals(classOf, v.classOf);
  }

  @Override
  public int hashCode() {
    return getType().hashCode();
  }
}
