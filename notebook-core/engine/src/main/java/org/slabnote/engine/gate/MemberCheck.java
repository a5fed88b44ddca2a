package org.slabnote.engine.gate;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.objectweb.asm.Type;

/** Judges one type, method or field that a cell refers to. */
final class MemberCheck {
  static final String CELLS = "REPL/";
  private static final String OBJECT = "java/lang/Object";
  private static final String HASH_CODE = "hashCode()I";

  /** Their hash codes are those of their values, the same everywhere. */
  private static final Set<String> VALUES = Set.of(
      "java/lang/String",
      "java/lang/Integer",
      "java/lang/Long",
      "java/lang/Double",
      "java/lang/Float",
      "java/lang/Short",
      "java/lang/Byte",
      "java/lang/Character",
      "java/lang/Boolean",
      "java/math/BigDecimal",
      "java/math/BigInteger");

  private final AllowList allowList;
  private final ClassWorld world;
  private final Refusals refusals;

  MemberCheck(AllowList allowList, ClassWorld world, Refusals refusals) {
    this.allowList = allowList;
    this.world = world;
    this.refusals = refusals;
  }

  void type(int line, Type type) {
    switch (type.getSort()) {
      case Type.ARRAY -> type(line, type.getElementType());
      case Type.METHOD -> {
        type(line, type.getReturnType());
        for (Type argument : type.getArgumentTypes()) {
          type(line, argument);
        }
      }
      case Type.OBJECT -> {
        String name = type.getInternalName();
        if (!name.startsWith(CELLS) && !allowList.allowsType(dotted(name))) {
          refusals.type(line, dotted(name));
        }
      }
      default -> {}
    }
  }

  /** The owner in a class file is only the static type: what is called stands in a supertype. */
  void member(int line, String owner, String name, String descriptor) {
    if (owner.startsWith("[")) {
      if (!name.equals("clone")) {
        member(line, OBJECT, name, descriptor);
      }
      return;
    }
    if (!owner.startsWith(CELLS)) {
      type(line, Type.getObjectType(owner));
      if (!allowList.allowsType(dotted(owner))) {
        return;
      }
    }
    type(line, typeOf(descriptor));
    List<ClassWorld.Info> declaring = declaring(owner, name, descriptor);
    if (declaring.isEmpty()) {
      refusals.member(line, dotted(owner), name);
      return;
    }
    String first = declaring.get(0).name();
    if ((name + descriptor).equals(HASH_CODE)) {
      if (!VALUES.contains(first)) {
        refusals.member(line, "java.lang.Object", name);
      }
      return;
    }
    for (ClassWorld.Info one : declaring) {
      String className = dotted(one.name());
      if (!one.name().startsWith(CELLS) && allowList.refusesMember(className, name, descriptor)) {
        refusals.member(line, className, name);
        return;
      }
    }
    if (!first.startsWith(CELLS) && !allowed(declaring, first, name, descriptor)) {
      refusals.member(line, dotted(first), name);
    }
  }

  /** Whether a class that is not of a cell declares the field. */
  boolean isForeignField(String owner, String name, String descriptor) {
    return world.lineage(owner).stream()
        .filter(one -> one.declares(name + descriptor))
        .findFirst()
        .map(one -> !one.name().startsWith(CELLS))
        .orElse(true);
  }

  /**
   * A method that a cell's type declares without a body, and that the class takes from a class outside
   * the cells: to call the one is to call the other.
   */
  void inherited(int line, String className) {
    List<ClassWorld.Info> classes = world.superclasses(className);
    if (classes.isEmpty() || classes.get(0).isInterface() || classes.get(0).isAbstract()) {
      return;
    }
    for (ClassWorld.Info type : world.lineage(className)) {
      for (String member : type.members().keySet()) {
        int open = member.indexOf('(');
        if (open > 0 && !member.startsWith("<") && type.isAbstract(member)) {
          Optional<ClassWorld.Info> body = classes.stream()
              .filter(one -> one.declares(member) && !one.isAbstract(member))
              .findFirst();
          boolean foreign = body.map(one -> !one.name().startsWith(CELLS)).orElse(false);
          boolean stated = type.name().startsWith(CELLS) || !type.name().startsWith("java/");
          if (foreign && stated && !member.equals(HASH_CODE)) {
            member(
                line, body.orElseThrow().name(), member.substring(0, open), member.substring(open));
          }
        }
      }
    }
  }

  private boolean allowed(
      List<ClassWorld.Info> declaring, String first, String name, String descriptor) {
    String className = dotted(first);
    if (!allowList.allowsMember(className, name, descriptor)) {
      return false;
    }
    if (!allowList.isPinned(className)) {
      return true;
    }
    return declaring.stream()
        .anyMatch(one -> allowList.pinned(dotted(one.name()), name, descriptor));
  }

  private List<ClassWorld.Info> declaring(String owner, String name, String descriptor) {
    String member = name + descriptor;
    boolean constructor = name.equals("<init>");
    List<ClassWorld.Info> declaring = new ArrayList<>();
    List<ClassWorld.Info> where =
        constructor ? world.find(owner).map(List::of).orElse(List.of()) : world.lineage(owner);
    for (ClassWorld.Info info : where) {
      if (info.declares(member)) {
        declaring.add(info);
      }
    }
    boolean object = !constructor
        && declaring.isEmpty()
        && world.find(owner).map(ClassWorld.Info::isInterface).orElse(false);
    if (object) {
      world.find(OBJECT).filter(one -> one.declares(member)).ifPresent(declaring::add);
    }
    return declaring;
  }

  static Type typeOf(String descriptor) {
    return descriptor.startsWith("(") ? Type.getMethodType(descriptor) : Type.getType(descriptor);
  }

  static String dotted(String internalName) {
    return internalName.replace('/', '.');
  }
}
