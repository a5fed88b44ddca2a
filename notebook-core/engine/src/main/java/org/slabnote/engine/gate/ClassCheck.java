package org.slabnote.engine.gate;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.objectweb.asm.ConstantDynamic;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.FieldNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.LdcInsnNode;
import org.objectweb.asm.tree.LineNumberNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.MultiANewArrayInsnNode;
import org.objectweb.asm.tree.TryCatchBlockNode;
import org.objectweb.asm.tree.TypeInsnNode;

/** Reads one class of a cell, every reference of it. */
final class ClassCheck {
  private static final String CELLS = "REPL/";
  private static final int SERIALIZABLE_LAMBDA = 1;
  private static final Set<String> BOOTSTRAPS = Set.of(
      "java/lang/invoke/LambdaMetafactory.metafactory",
      "java/lang/invoke/LambdaMetafactory.altMetafactory",
      "java/lang/invoke/StringConcatFactory.makeConcatWithConstants",
      "java/lang/runtime/ObjectMethods.bootstrap");

  private final AllowList allowList;
  private final ClassWorld world;
  private final Refusals refusals;
  private int line;

  ClassCheck(AllowList allowList, ClassWorld world, Refusals refusals) {
    this.allowList = allowList;
    this.world = world;
    this.refusals = refusals;
  }

  void check(ClassNode node, int statementLine) {
    line = statementLine;
    if (!node.name.startsWith(CELLS)) {
      refusals.say(line, node.name, "the class " + node.name + " does not come from a cell");
    }
    type(Type.getObjectType(node.superName));
    for (String one : node.interfaces) {
      type(Type.getObjectType(one));
      if (one.equals("java/io/Serializable")) {
        refusals.say(
            line,
            one,
            "a cell's class cannot be Serializable: reading it back would run code unseen. "
                + "Leave Serializable out");
      }
    }
    for (FieldNode field : node.fields) {
      type(Type.getType(field.desc));
    }
    for (MethodNode method : node.methods) {
      line = statementLine;
      method(method);
    }
  }

  private void method(MethodNode method) {
    for (AbstractInsnNode at : method.instructions) {
      if (at instanceof LineNumberNode first) {
        line = first.line;
        break;
      }
    }
    if ((method.access & Opcodes.ACC_NATIVE) != 0) {
      refusals.say(
          line,
          "native",
          "a native method may not stand in a cell: it runs outside Java. "
              + "Write it in Java, or publish it as a plugin");
    }
    if (method.name.equals("finalize") && method.desc.equals("()V")) {
      refusals.say(
          line,
          "finalize",
          "a method finalize() may not stand in a cell: when it runs "
              + "differs from run to run. Leave it out");
    }
    type(Type.getMethodType(method.desc));
    for (AbstractInsnNode at : method.instructions) {
      instruction(at);
    }
    for (TryCatchBlockNode handler : method.tryCatchBlocks) {
      caught(handler);
    }
  }

  private void instruction(AbstractInsnNode at) {
    if (at instanceof LineNumberNode next) {
      line = next.line;
    } else if (at instanceof MethodInsnNode call) {
      member(call.owner, call.name, call.desc);
    } else if (at instanceof FieldInsnNode field) {
      if (field.getOpcode() == Opcodes.PUTSTATIC && !field.owner.startsWith(CELLS)) {
        refusals.say(
            line,
            field.owner,
            dotted(field.owner) + "." + field.name
                + " may not be assigned in a cell: other steps read it. Use a variable of the cell");
      } else {
        member(field.owner, field.name, field.desc);
      }
    } else if (at instanceof TypeInsnNode one) {
      type(Type.getObjectType(one.desc));
    } else if (at instanceof MultiANewArrayInsnNode one) {
      type(Type.getType(one.desc));
    } else if (at instanceof LdcInsnNode one) {
      constant(one.cst);
    } else if (at instanceof InvokeDynamicInsnNode one) {
      dynamic(one);
    }
  }

  private void dynamic(InvokeDynamicInsnNode call) {
    String bootstrap = call.bsm.getOwner() + "." + call.bsm.getName();
    if (!BOOTSTRAPS.contains(bootstrap)) {
      refusals.say(
          line,
          bootstrap,
          "a call bound by " + dotted(bootstrap)
              + " may not stand in a cell: what it calls cannot be seen. Call the method by its name");
      return;
    }
    if (call.bsm.getName().equals("altMetafactory")
        && call.bsmArgs.length > 3
        && call.bsmArgs[3] instanceof Integer flags
        && (flags & SERIALIZABLE_LAMBDA) != 0) {
      refusals.say(
          line,
          "java/io/Serializable",
          "a cell's lambda cannot be Serializable: reading it "
              + "back would run code unseen. Leave Serializable out");
    }
    type(Type.getMethodType(call.desc));
    for (Object argument : call.bsmArgs) {
      constant(argument);
    }
  }

  private void constant(Object value) {
    if (value instanceof Type type) {
      type(type);
    } else if (value instanceof Handle handle) {
      member(handle.getOwner(), handle.getName(), handle.getDesc());
    } else if (value instanceof ConstantDynamic dynamic) {
      refusals.say(
          line,
          dynamic.getName(),
          "a constant made by a call may not stand in a cell: what "
              + "it calls cannot be seen. Use a plain constant");
    }
  }

  private void type(Type type) {
    switch (type.getSort()) {
      case Type.ARRAY -> type(type.getElementType());
      case Type.METHOD -> {
        type(type.getReturnType());
        for (Type argument : type.getArgumentTypes()) {
          type(argument);
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
  private void member(String owner, String name, String descriptor) {
    if (owner.startsWith("[")) {
      if (!name.equals("clone")) {
        member("java/lang/Object", name, descriptor);
      }
      return;
    }
    if (!owner.startsWith(CELLS)) {
      type(Type.getObjectType(owner));
      if (!allowList.allowsType(dotted(owner))) {
        return;
      }
    }
    type(descriptor.startsWith("(") ? Type.getMethodType(descriptor) : Type.getType(descriptor));
    List<ClassWorld.Info> declaring = declaring(owner, name, descriptor);
    if (declaring.isEmpty()) {
      refusals.member(line, dotted(owner), name);
      return;
    }
    String first = declaring.get(0).name();
    boolean refused = !first.startsWith(CELLS) && !allowed(declaring, first, name, descriptor);
    for (ClassWorld.Info one : declaring) {
      String className = dotted(one.name());
      if (allowList.refusesMember(className, name, descriptor)) {
        refusals.member(line, className, name);
        return;
      }
    }
    if (refused) {
      refusals.member(line, dotted(first), name);
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
    List<ClassWorld.Info> declaring = new ArrayList<>();
    String member = name + descriptor;
    boolean constructor = name.equals("<init>");
    for (ClassWorld.Info info : constructor ? own(owner) : world.lineage(owner)) {
      if (info.members().contains(member)) {
        declaring.add(info);
      }
    }
    if (!constructor && world.find(owner).map(ClassWorld.Info::isInterface).orElse(false)) {
      world.find("java/lang/Object").ifPresent(object -> {
        if (declaring.isEmpty() && object.members().contains(member)) {
          declaring.add(object);
        }
      });
    }
    return declaring;
  }

  private List<ClassWorld.Info> own(String owner) {
    return world.find(owner).map(List::of).orElse(List.of());
  }

  /** An abort and a stack overflow must reach the engine: only exceptions can be caught. */
  private void caught(TryCatchBlockNode handler) {
    if (handler.type == null || handler.type.equals("java/lang/NoSuchFieldError")) {
      return;
    }
    AbstractInsnNode at = handler.handler;
    while (at != null && !(at instanceof LineNumberNode) && at.getOpcode() < 0) {
      at = at.getNext();
    }
    if (at instanceof LineNumberNode number) {
      line = number.line;
    }
    boolean exception = world.isSubtype(handler.type, "java/lang/Exception");
    if (!exception && !TryWithResources.isHandler(handler)) {
      refusals.say(
          line,
          handler.type,
          "catching " + dotted(handler.type)
              + " may not stand in a cell: it would swallow the engine's own stop, and where a stack "
              + "overflows differs between machines. Catch an exception such as IllegalArgumentException");
    }
  }

  private static String dotted(String internalName) {
    return internalName.replace('/', '.');
  }
}
