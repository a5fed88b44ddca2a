package org.slabnote.engine.gate;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.ConstantDynamic;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.AnnotationNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.FieldNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.LdcInsnNode;
import org.objectweb.asm.tree.LineNumberNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.MultiANewArrayInsnNode;
import org.objectweb.asm.tree.RecordComponentNode;
import org.objectweb.asm.tree.TryCatchBlockNode;
import org.objectweb.asm.tree.TypeInsnNode;

/** Reads one class of a cell, every reference of it. */
final class ClassCheck {
  private static final String CELLS = MemberCheck.CELLS;

  /** The interfaces of the plugin API that a cell may implement. */
  private static final Set<String> OPEN =
      Set.of("org/slabnote/api/Operation", "org/slabnote/api/Filter");

  private static final int SERIALIZABLE_LAMBDA = 1;
  private static final Set<String> BOOTSTRAPS = Set.of(
      "java/lang/invoke/LambdaMetafactory.metafactory",
      "java/lang/invoke/LambdaMetafactory.altMetafactory",
      "java/lang/invoke/StringConcatFactory.makeConcatWithConstants",
      "java/lang/runtime/ObjectMethods.bootstrap");

  private final ClassWorld world;
  private final Refusals refusals;
  private final MemberCheck members;
  private int line;

  ClassCheck(AllowList allowList, ClassWorld world, Refusals refusals) {
    this.world = world;
    this.refusals = refusals;
    this.members = new MemberCheck(allowList, world, refusals);
  }

  void check(ClassNode node, int statementLine) {
    line = statementLine;
    header(node);
    annotations(node.visibleAnnotations, node.invisibleAnnotations);
    annotations(node.visibleTypeAnnotations, node.invisibleTypeAnnotations);
    for (FieldNode field : node.fields) {
      members.type(line, Type.getType(field.desc));
      annotations(field.visibleAnnotations, field.invisibleAnnotations);
      annotations(field.visibleTypeAnnotations, field.invisibleTypeAnnotations);
    }
    for (MethodNode method : node.methods) {
      line = statementLine;
      method(method);
    }
    line = statementLine;
    members.inherited(line, node.name);
  }

  private void header(ClassNode node) {
    if (!node.name.startsWith(CELLS) || node.module != null) {
      refusals.say(line, node.name, "the class " + node.name + " does not come from a cell");
    }
    if (node.superName != null) {
      object(node.superName);
    }
    for (String one : node.interfaces) {
      object(one);
      if (one.startsWith("org/slabnote/api/") && !OPEN.contains(one)) {
        refusals.say(
            line,
            one,
            "a cell's class cannot be a " + Refusals.shown(one)
                + ": only the engine makes these, so that they stand in the record. "
                + "Use run(...), then(...) or each(...)");
      }
      if (one.equals("java/io/Serializable")) {
        refusals.say(
            line,
            one,
            "a cell's class cannot be Serializable: reading it back would run code unseen. "
                + "Leave Serializable out");
      }
    }
    List<String> named = new ArrayList<>();
    named.addAll(node.nestMembers == null ? List.of() : node.nestMembers);
    named.addAll(node.permittedSubclasses == null ? List.of() : node.permittedSubclasses);
    if (node.nestHostClass != null) {
      named.add(node.nestHostClass);
    }
    for (String one : named) {
      if (!one.startsWith(CELLS)) {
        refusals.say(line, one, "the class " + one + " does not come from a cell");
      }
    }
    if (node.recordComponents != null) {
      for (RecordComponentNode one : node.recordComponents) {
        members.type(line, Type.getType(one.descriptor));
        annotations(one.visibleAnnotations, one.invisibleAnnotations);
      }
    }
  }

  private void object(String internalName) {
    members.type(line, Type.getObjectType(internalName));
  }

  private void annotations(
      @Nullable List<? extends AnnotationNode> visible,
      @Nullable List<? extends AnnotationNode> invisible) {
    if (visible != null) {
      visible.forEach(this::annotation);
    }
    if (invisible != null) {
      invisible.forEach(this::annotation);
    }
  }

  private void annotation(AnnotationNode annotation) {
    members.type(line, Type.getType(annotation.desc));
    if (annotation.values != null) {
      annotation.values.forEach(this::annotationValue);
    }
  }

  private void annotationValue(Object value) {
    if (value instanceof Type type) {
      members.type(line, type);
    } else if (value instanceof AnnotationNode inner) {
      annotation(inner);
    } else if (value instanceof String[] constant) {
      members.type(line, Type.getType(constant[0]));
    } else if (value instanceof List<?> list) {
      list.forEach(this::annotationValue);
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
    if (method.name.startsWith("slabnote$") && (method.access & Opcodes.ACC_SYNTHETIC) == 0) {
      refusals.say(
          line,
          method.name,
          "the name " + method.name
              + " is one of the engine's own. Give the method a name without slabnote$");
    }
    if ((method.access & Opcodes.ACC_SYNCHRONIZED) != 0) {
      locked();
    }
    members.type(line, Type.getMethodType(method.desc));
    method.exceptions.forEach(this::object);
    annotations(method.visibleAnnotations, method.invisibleAnnotations);
    annotations(method.visibleTypeAnnotations, method.invisibleTypeAnnotations);
    parameters(method.visibleParameterAnnotations);
    parameters(method.invisibleParameterAnnotations);
    boolean hashCode = HashCodes.isDefinition(method);
    for (AbstractInsnNode at : method.instructions) {
      boolean hashed = at instanceof MethodInsnNode call && HashCodes.isOne(call.name);
      if (!hashCode || !hashed) {
        instruction(at);
      }
    }
    for (TryCatchBlockNode handler : method.tryCatchBlocks) {
      caught(handler);
    }
  }

  private void parameters(@Nullable List<AnnotationNode> @Nullable [] all) {
    if (all != null) {
      for (List<AnnotationNode> one : all) {
        annotations(one, null);
      }
    }
  }

  private void locked() {
    refusals.say(
        line,
        "synchronized",
        "synchronized may not stand in a cell: who comes first differs from run to run. "
            + "Let each item of the work write to a place of its own, and add up afterwards");
  }

  private void instruction(AbstractInsnNode at) {
    if (at instanceof LineNumberNode next) {
      line = next.line;
    } else if (at instanceof MethodInsnNode call) {
      members.member(line, call.owner, call.name, call.desc);
    } else if (at instanceof FieldInsnNode field) {
      field(field);
    } else if (at instanceof TypeInsnNode one) {
      boolean passes = one.getOpcode() == Opcodes.INSTANCEOF && one.desc.equals("java/lang/Error");
      if (!passes) {
        object(one.desc);
      }
    } else if (at instanceof MultiANewArrayInsnNode one) {
      members.type(line, Type.getType(one.desc));
    } else if (at instanceof LdcInsnNode one) {
      constant(one.cst);
    } else if (at instanceof InvokeDynamicInsnNode one) {
      dynamic(one);
    } else if (at.getOpcode() == Opcodes.MONITORENTER) {
      locked();
    }
  }

  private void field(FieldInsnNode field) {
    boolean puts = field.getOpcode() == Opcodes.PUTSTATIC
            && members.isForeignField(field.owner, field.name, field.desc)
        || field.getOpcode() == Opcodes.PUTFIELD && !field.owner.startsWith(CELLS);
    if (puts) {
      assigned(field.owner, field.name);
    } else {
      members.member(line, field.owner, field.name, field.desc);
    }
  }

  private void assigned(String owner, String name) {
    refusals.say(
        line,
        owner,
        Refusals.shown(owner) + "." + name
            + " may not be assigned in a cell: other steps read it. Use a variable of the cell");
  }

  private void dynamic(InvokeDynamicInsnNode call) {
    String bootstrap = call.bsm.getOwner() + "." + call.bsm.getName();
    if (!BOOTSTRAPS.contains(bootstrap)) {
      refusals.say(
          line,
          bootstrap,
          "a call bound by " + MemberCheck.dotted(bootstrap)
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
    members.type(line, Type.getMethodType(call.desc));
    for (Object argument : call.bsmArgs) {
      constant(argument);
    }
  }

  private void constant(Object value) {
    if (value instanceof Type type) {
      members.type(line, type);
    } else if (value instanceof Handle handle) {
      if (handle.getTag() == Opcodes.H_PUTFIELD || handle.getTag() == Opcodes.H_PUTSTATIC) {
        assigned(handle.getOwner(), handle.getName());
      }
      members.member(line, handle.getOwner(), handle.getName(), handle.getDesc());
    } else if (value instanceof ConstantDynamic dynamic) {
      refusals.say(
          line,
          dynamic.getName(),
          "a constant made by a call may not stand in a cell: what "
              + "it calls cannot be seen. Use a plain constant");
    }
  }

  /** An abort and a stack overflow must reach the engine: only exceptions can be caught. */
  private void caught(TryCatchBlockNode handler) {
    if ("java/lang/NoSuchFieldError".equals(handler.type)) {
      return;
    }
    AbstractInsnNode at = handler.handler;
    while (at != null && !(at instanceof LineNumberNode) && at.getOpcode() < 0) {
      at = at.getNext();
    }
    if (at instanceof LineNumberNode number) {
      line = number.line;
    }
    if (handler.type == null) {
      if (!Finally.letsErrorsPass(handler)) {
        refusals.say(
            line,
            "finally",
            "a finally that holds up errors may not stand in a cell: it would swallow the engine's own "
                + "stop. Compile the cell again");
      }
      return;
    }
    boolean exception = world.isSubtype(handler.type, "java/lang/Exception");
    if (!exception && !TryWithResources.isHandler(handler)) {
      refusals.say(
          line,
          handler.type,
          "catching " + MemberCheck.dotted(handler.type)
              + " may not stand in a cell: it would swallow the engine's own stop, and where a stack "
              + "overflows differs between machines. Catch an exception such as IllegalArgumentException");
    }
  }
}
