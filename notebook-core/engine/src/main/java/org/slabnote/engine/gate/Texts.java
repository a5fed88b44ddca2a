package org.slabnote.engine.gate;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.signature.SignatureReader;
import org.objectweb.asm.signature.SignatureVisitor;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.analysis.Analyzer;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.BasicValue;
import org.objectweb.asm.tree.analysis.Frame;

/**
 * Tells which values have no text of their own: their {@code toString} shows where they lie in memory,
 * or the number that JShell gave a class.
 */
final class Texts {
  private static final String TO_STRING = "toString()Ljava/lang/String;";
  private static final String OBJECT = "java/lang/Object";

  private final AllowList allowList;
  private final ClassWorld world;
  private final Set<String> lambdas = new HashSet<>();
  private final Map<String, List<Value>> held = new HashMap<>();

  Texts(AllowList allowList, ClassWorld world) {
    this.allowList = allowList;
    this.world = world;
  }

  /** Notes which interfaces a class makes lambdas of. */
  void add(ClassNode node) {
    for (MethodNode method : node.methods) {
      for (AbstractInsnNode at : method.instructions) {
        if (at instanceof InvokeDynamicInsnNode call
            && call.bsm.getOwner().equals("java/lang/invoke/LambdaMetafactory")) {
          lambdas.add(call.desc.replaceAll("^.*\\)L|;$", ""));
        }
      }
    }
  }

  /** Notes what a class puts into variables whose type does not tell it, such as {@code Object}. */
  void addHeld(ClassNode node, Map<String, ClassNode> cells) throws AnalyzerException {
    for (MethodNode method : node.methods) {
      if (puts(method)) {
        Frame<BasicValue>[] frames =
            new Analyzer<>(new ValueFlow(world, cells)).analyze(node.name, method);
        for (int i = 0; i < frames.length; i++) {
          AbstractInsnNode at = method.instructions.get(i);
          if (frames[i] != null
              && isPut(at)
              && at instanceof FieldInsnNode field
              && frames[i].getStack(frames[i].getStackSize() - 1) instanceof Value value) {
            held.computeIfAbsent(key(field), k -> new ArrayList<>()).add(value);
          }
        }
      }
    }
  }

  private static boolean puts(MethodNode method) {
    for (AbstractInsnNode at : method.instructions) {
      if (isPut(at)) {
        return true;
      }
    }
    return false;
  }

  private static boolean isPut(AbstractInsnNode at) {
    boolean put = at.getOpcode() == Opcodes.PUTSTATIC || at.getOpcode() == Opcodes.PUTFIELD;
    return put && at instanceof FieldInsnNode field && field.desc.startsWith("L");
  }

  private static String key(FieldInsnNode field) {
    return field.owner + "." + field.name;
  }

  /** What of the value has no text of its own; empty where it has one, or where that is not known. */
  Optional<String> textless(@Nullable Value value) {
    if (value == null) {
      return Optional.empty();
    }
    Optional<String> own = textless(value.getType(), value.exact, new HashSet<>());
    if (own.isEmpty() && value.origin instanceof FieldInsnNode read) {
      own = held.getOrDefault(key(read), List.of()).stream()
          .flatMap(one -> textless(one.getType(), one.exact, new HashSet<>()).stream())
          .findFirst();
    }
    return own.isPresent() || value.signature == null
        ? own
        : inSignature(value.signature, new HashSet<>());
  }

  /** Whether the value may be a lambda. */
  boolean isLambda(Value value) {
    String name = value.getType().getInternalName();
    return lambdas.contains(name) || allowList.isTextless(name.replace('/', '.'));
  }

  private Optional<String> textless(Type type, boolean exact, Set<String> seen) {
    return switch (type.getSort()) {
      case Type.ARRAY -> Optional.of("an array");
      case Type.OBJECT -> textless(type.getInternalName(), exact, seen);
      default -> Optional.empty();
    };
  }

  private Optional<String> textless(String name, boolean exact, Set<String> seen) {
    Optional<ClassWorld.Info> found = world.find(name);
    if (found.isEmpty() || !seen.add(name)) {
      return Optional.empty();
    }
    ClassWorld.Info info = found.get();
    String dotted = Refusals.shown(name);
    if (allowList.isTextless(name.replace('/', '.')) || lambdas.contains(name)) {
      return Optional.of(dotted);
    }
    if (info.isInterface() || name.equals(OBJECT) && !exact || info.isAbstract() && !exact) {
      return Optional.empty();
    }
    for (ClassWorld.Info one : world.superclasses(name)) {
      if (one.declares(TO_STRING)) {
        if (one.name().equals(OBJECT)) {
          return Optional.of(dotted);
        }
        break;
      }
    }
    for (String component : info.components()) {
      Optional<String> inside = inSignature(component, seen);
      if (inside.isPresent()) {
        return inside.map(what -> dotted + ", which holds " + what + ",");
      }
    }
    return Optional.empty();
  }

  /** A list of arrays shows each array's place in memory. */
  private Optional<String> inSignature(String signature, Set<String> seen) {
    String[] found = {""};
    new SignatureReader(signature).acceptType(new SignatureVisitor(Opcodes.ASM9) {
      @Override
      public SignatureVisitor visitArrayType() {
        found[0] = "an array";
        return this;
      }

      @Override
      public void visitClassType(String name) {
        if (found[0].isEmpty()) {
          found[0] = textless(name, false, seen).orElse("");
        }
      }
    });
    return found[0].isEmpty() ? Optional.empty() : Optional.of(found[0]);
  }
}
