package org.slabnote.engine.gate;

import java.util.HashSet;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.FieldNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.RecordComponentNode;
import org.objectweb.asm.tree.analysis.Analyzer;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.BasicValue;
import org.objectweb.asm.tree.analysis.Frame;

/** Tells which static fields of the cells' classes can never change, nor what they hold. */
final class Constants {
  private static final Set<String> IMMUTABLE = Set.of(
      "java/lang/String",
      "java/lang/Boolean",
      "java/lang/Byte",
      "java/lang/Short",
      "java/lang/Character",
      "java/lang/Integer",
      "java/lang/Long",
      "java/lang/Float",
      "java/lang/Double",
      "java/lang/Class",
      "java/math/BigDecimal",
      "java/math/BigInteger",
      "java/util/Locale",
      "java/util/regex/Pattern");

  /** What is made by these holds what it was made of, for good. */
  private static final Set<String> MAKES_IMMUTABLE =
      Set.of("of", "copyOf", "ofEntries", "toList", "setOf", "mapOf", "entry");

  private final ClassWorld world;
  private final Map<String, ClassNode> cells;

  Constants(ClassWorld world, Map<String, ClassNode> cells) {
    this.world = world;
    this.cells = cells;
  }

  boolean isConstant(String owner, FieldNode field) {
    if ((field.access & Opcodes.ACC_FINAL) == 0) {
      return false;
    }
    Type type = Type.getType(field.desc);
    if (type.getSort() == Type.ARRAY) {
      return isTable(owner, field);
    }
    if (type.getSort() != Type.OBJECT) {
      return true;
    }
    String name = type.getInternalName();
    return isImmutable(name) || madeImmutable(owner, field);
  }

  private boolean isImmutable(String className) {
    return IMMUTABLE.contains(className)
        || world.isSubtype(className, "java/lang/Record") && !holdsArray(className, new HashSet<>())
        || world.isSubtype(className, "java/lang/Enum");
  }

  /** Whether a record of a cell, or one among its components and so on, has an array. */
  private boolean holdsArray(String className, Set<String> seen) {
    ClassNode node = cells.get(className);
    if (node == null || node.recordComponents == null || !seen.add(className)) {
      return false;
    }
    for (RecordComponentNode one : node.recordComponents) {
      Type type = Type.getType(one.descriptor);
      if (type.getSort() == Type.ARRAY
          || type.getSort() == Type.OBJECT && holdsArray(type.getInternalName(), seen)) {
        return true;
      }
    }
    return false;
  }

  /** Whether a component of an operation of such a type stays what it was when the step was stated. */
  boolean isStable(ClassNode operation, String name, Type type) {
    if (type.getSort() != Type.OBJECT) {
      return type.getSort() != Type.ARRAY;
    }
    String className = type.getInternalName();
    if (className.equals("java/util/List")) {
      return copies(operation, name);
    }
    boolean ofCell = className.startsWith(MemberCheck.CELLS);
    boolean ofJdk = className.startsWith("java/");
    return isImmutable(className)
        || className.startsWith("java/util/Optional")
        || !ofCell && !ofJdk
        || ofCell && world.find(className).map(ClassWorld.Info::isInterface).orElse(false);
  }

  private static boolean copies(ClassNode operation, String list) {
    for (MethodNode method : operation.methods) {
      for (AbstractInsnNode at : method.instructions) {
        if (at instanceof FieldInsnNode put
            && put.getOpcode() == Opcodes.PUTFIELD
            && put.name.equals(list)
            && !isImmutable(before(at))) {
          return false;
        }
      }
    }
    return true;
  }

  /** {@code List.of(...)}, a lambda that holds nothing, or a conversion of one. */
  private boolean madeImmutable(String owner, FieldNode field) {
    ClassNode node = cells.get(owner);
    if (node == null) {
      return false;
    }
    for (MethodNode method : node.methods) {
      for (AbstractInsnNode at : method.instructions) {
        if (at instanceof FieldInsnNode put
            && put.getOpcode() == Opcodes.PUTSTATIC
            && put.name.equals(field.name)) {
          return isImmutable(before(at));
        }
      }
    }
    return false;
  }

  private static boolean isImmutable(@Nullable AbstractInsnNode made) {
    if (made instanceof InvokeDynamicInsnNode lambda) {
      return Type.getArgumentTypes(lambda.desc).length == 0;
    }
    if (!(made instanceof MethodInsnNode call)) {
      return false;
    }
    String name = call.name.substring(call.name.lastIndexOf('$') + 1);
    boolean collection = call.owner.startsWith("java/util/") || call.name.startsWith("slabnote$");
    return collection && MAKES_IMMUTABLE.contains(name) && !call.owner.equals("java/util/EnumSet");
  }

  private static @Nullable AbstractInsnNode before(AbstractInsnNode start) {
    AbstractInsnNode at = start.getPrevious();
    while (at != null && at.getOpcode() < 0) {
      at = at.getPrevious();
    }
    return at;
  }

  /** An array that its own class alone sees, and only reads once it is made. */
  private boolean isTable(String owner, FieldNode field) {
    if ((field.access & Opcodes.ACC_SYNTHETIC) != 0) {
      return true; // the compiler's own, of enums and switches
    }
    if ((field.access & Opcodes.ACC_PRIVATE) == 0 || field.desc.startsWith("[[")) {
      return false;
    }
    for (ClassNode node : cells.values()) {
      for (MethodNode method : node.methods) {
        boolean made = node.name.equals(owner) && method.name.equals("<clinit>");
        if (!made && reads(method, owner, field.name) && !onlyReads(node, method, owner, field)) {
          return false;
        }
      }
    }
    return true;
  }

  private static boolean reads(MethodNode method, String owner, String name) {
    for (AbstractInsnNode at : method.instructions) {
      if (isRead(at, owner, name)) {
        return true;
      }
    }
    return false;
  }

  private static boolean isRead(@Nullable AbstractInsnNode at, String owner, String name) {
    return at instanceof FieldInsnNode read && read.owner.equals(owner) && read.name.equals(name);
  }

  private boolean onlyReads(ClassNode node, MethodNode method, String owner, FieldNode field) {
    Frame<BasicValue>[] frames;
    try {
      frames = new Analyzer<>(new ValueFlow(world, cells)).analyze(node.name, method);
    } catch (AnalyzerException | RuntimeException e) {
      return false;
    }
    for (int i = 0; i < frames.length; i++) {
      int opcode = method.instructions.get(i).getOpcode();
      boolean stores = opcode >= Opcodes.IASTORE && opcode <= Opcodes.SASTORE;
      if (stores && frames[i] != null) {
        BasicValue into = frames[i].getStack(frames[i].getStackSize() - 3);
        boolean of = into instanceof Value value && isRead(value.origin, owner, field.name);
        boolean unknown = into instanceof Value value && value.origin == null;
        if (of || unknown && into.getType().getDescriptor().equals(field.desc)) {
          return false;
        }
      }
    }
    return true;
  }
}
