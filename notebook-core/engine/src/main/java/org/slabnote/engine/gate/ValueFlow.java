package org.slabnote.engine.gate;

import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.FieldNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.LdcInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.TypeInsnNode;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.BasicInterpreter;
import org.objectweb.asm.tree.analysis.BasicValue;

/** Follows the types of values through a method, as far as the class files of the cells tell them. */
final class ValueFlow extends BasicInterpreter {
  private static final String OBJECT = "java/lang/Object";

  /** Stands in a text for a number that is put in there. */
  static final char NUMBER = '\u0001';

  private final ClassWorld world;
  private final Map<String, ClassNode> cells;

  ValueFlow(ClassWorld world, Map<String, ClassNode> cells) {
    super(ASM9);
    this.world = world;
    this.cells = cells;
  }

  @Override
  public @Nullable BasicValue newValue(@Nullable Type type) {
    if (type != null && (type.getSort() == Type.OBJECT || type.getSort() == Type.ARRAY)) {
      return Value.of(type);
    }
    return super.newValue(type);
  }

  @Override
  public @Nullable BasicValue newOperation(AbstractInsnNode at) throws AnalyzerException {
    if (at instanceof LdcInsnNode ldc && ldc.cst instanceof String text) {
      return Value.text(text);
    }
    if (at instanceof LdcInsnNode ldc
        && ldc.cst instanceof Type type
        && type.getSort() != Type.METHOD) {
      return Value.classOf(Value.of(type));
    }
    if (at.getOpcode() == Opcodes.NEW && at instanceof TypeInsnNode made) {
      return Value.made(Type.getObjectType(made.desc), at);
    }
    if (at instanceof FieldInsnNode field) {
      return field(field);
    }
    return super.newOperation(at);
  }

  @Override
  public @Nullable BasicValue unaryOperation(AbstractInsnNode at, BasicValue value)
      throws AnalyzerException {
    return switch (at.getOpcode()) {
      case Opcodes.GETFIELD -> field((FieldInsnNode) at);
      case Opcodes.ANEWARRAY ->
        Value.made(Type.getType("[" + Type.getObjectType(((TypeInsnNode) at).desc)), at);
      case Opcodes.CHECKCAST -> cast(Type.getObjectType(((TypeInsnNode) at).desc), value);
      default -> super.unaryOperation(at, value);
    };
  }

  private BasicValue cast(Type type, BasicValue value) {
    boolean known = value instanceof Value && below(value.getType(), type);
    return known ? value : Value.of(type);
  }

  private @Nullable BasicValue field(FieldInsnNode field) {
    Type type = Type.getType(field.desc);
    if (type.getSort() != Type.OBJECT && type.getSort() != Type.ARRAY) {
      return newValue(type);
    }
    String signature = null;
    ClassNode owner = cells.get(field.owner);
    if (owner != null) {
      for (FieldNode one : owner.fields) {
        if (one.name.equals(field.name)) {
          signature = one.signature;
        }
      }
    }
    return Value.of(type, signature, field);
  }

  @Override
  public @Nullable BasicValue binaryOperation(
      AbstractInsnNode at, BasicValue first, BasicValue second) throws AnalyzerException {
    if (at.getOpcode() == Opcodes.AALOAD) {
      Type array = first.getType();
      boolean known = array != null && array.getSort() == Type.ARRAY;
      return Value.of(known ? Type.getType(array.getDescriptor().substring(1)) : object());
    }
    return super.binaryOperation(at, first, second);
  }

  @Override
  public @Nullable BasicValue naryOperation(AbstractInsnNode at, List<? extends BasicValue> values)
      throws AnalyzerException {
    if (at instanceof InvokeDynamicInsnNode call) {
      return Concatenation.is(call)
          ? joined(call, values)
          : newValue(Type.getReturnType(call.desc));
    }
    if (at instanceof MethodInsnNode call) {
      return result(call, values);
    }
    return super.naryOperation(at, values);
  }

  /** A text of constants and numbers is still known; one of other texts is not. */
  private static BasicValue joined(InvokeDynamicInsnNode call, List<? extends BasicValue> values) {
    boolean numbers = values.stream().allMatch(value -> !value.isReference());
    return numbers
        ? Value.text(Concatenation.recipe(call))
        : Value.of(Type.getObjectType("java/lang/String"));
  }

  private @Nullable BasicValue result(MethodInsnNode call, List<? extends BasicValue> values) {
    if (call.name.equals("getClass")
        && call.desc.equals("()Ljava/lang/Class;")
        && values.get(0) instanceof Value of) {
      return Value.classOf(of);
    }
    if (call.name.equals("clone") && call.owner.startsWith("[")) {
      return Value.of(Type.getObjectType(call.owner));
    }
    Type type = Type.getReturnType(call.desc);
    ClassNode owner = cells.get(call.owner);
    if (owner != null && type.getSort() == Type.OBJECT) {
      for (MethodNode one : owner.methods) {
        if (one.name.equals(call.name) && one.desc.equals(call.desc) && one.signature != null) {
          String signature = one.signature.substring(one.signature.indexOf(')') + 1);
          return Value.of(type, signature.replaceFirst("\\^.*", ""), null);
        }
      }
    }
    return newValue(type);
  }

  @Override
  public BasicValue merge(BasicValue first, BasicValue second) {
    if (first.equals(second)) {
      return first;
    }
    if (first instanceof Value a && second instanceof Value b) {
      return a.or(b, common(a.getType(), b.getType()));
    }
    if (first instanceof Value || second instanceof Value) {
      return first.isReference() && second.isReference()
          ? Value.of(object())
          : BasicValue.UNINITIALIZED_VALUE;
    }
    return super.merge(first, second);
  }

  private Type common(Type a, Type b) {
    if (below(a, b) || isNull(a)) {
      return b;
    }
    return below(b, a) || isNull(b) ? a : object();
  }

  private static boolean isNull(Type type) {
    return type.equals(NULL_TYPE);
  }

  private boolean below(Type a, Type b) {
    return a.equals(b)
        || a.getSort() == Type.OBJECT
            && b.getSort() == Type.OBJECT
            && world.isSubtype(a.getInternalName(), b.getInternalName());
  }

  private static Type object() {
    return Type.getObjectType(OBJECT);
  }
}
