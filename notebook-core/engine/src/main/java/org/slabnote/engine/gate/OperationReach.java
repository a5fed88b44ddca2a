package org.slabnote.engine.gate;

import java.util.ArrayDeque;
import java.util.Collection;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.LdcInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.MultiANewArrayInsnNode;
import org.objectweb.asm.tree.TypeInsnNode;

/**
 * All code of the cells that an operation can run.
 *
 * <p>Of a class that it names in any way, every method counts, and of its supertypes, subtypes and
 * nested classes too: a call of an interface may end in any class that implements it. Of the methods
 * that stand by themselves in a cell, those count that are called or referred to.
 */
final class OperationReach {
  /** A method and the class it stands in. */
  record Body(ClassNode owner, MethodNode method) {}

  /** What JShell wraps around one statement. */
  private static final Pattern WRAPPER = Pattern.compile("REPL/\\$JShell\\$\\w+");

  private final Map<String, ClassNode> cells;
  private final ClassWorld world;
  private final Set<String> touched = new HashSet<>();
  private final Set<String> seen = new HashSet<>();
  private final Set<Body> bodies = new LinkedHashSet<>();
  private final Deque<Body> open = new ArrayDeque<>();

  OperationReach(Map<String, ClassNode> cells, ClassWorld world) {
    this.cells = cells;
    this.world = world;
  }

  static boolean isWrapper(String className) {
    return WRAPPER.matcher(className).matches();
  }

  Collection<Body> of(ClassNode operation) {
    touch(operation.name);
    while (!open.isEmpty()) {
      Body body = open.remove();
      bodies.add(body);
      type(Type.getMethodType(body.method().desc));
      for (AbstractInsnNode at : body.method().instructions) {
        instruction(at);
      }
    }
    return bodies;
  }

  private void instruction(AbstractInsnNode at) {
    if (at instanceof MethodInsnNode call) {
      called(call.owner, call.name, call.desc);
    } else if (at instanceof FieldInsnNode field) {
      touch(field.owner);
      type(Type.getType(field.desc));
    } else if (at instanceof TypeInsnNode one) {
      type(Type.getObjectType(one.desc));
    } else if (at instanceof MultiANewArrayInsnNode one) {
      type(Type.getType(one.desc));
    } else if (at instanceof LdcInsnNode one && one.cst instanceof Type type) {
      type(type);
    } else if (at instanceof InvokeDynamicInsnNode call) {
      type(Type.getMethodType(call.desc));
      for (Object argument : call.bsmArgs) {
        if (argument instanceof Handle handle) {
          called(handle.getOwner(), handle.getName(), handle.getDesc());
        } else if (argument instanceof Type type) {
          type(type);
        }
      }
    }
  }

  private void called(String owner, String name, String descriptor) {
    touch(owner);
    type(MemberCheck.typeOf(descriptor));
    ClassNode node = cells.get(owner);
    if (node != null && isWrapper(owner)) {
      node.methods.stream()
          .filter(m -> m.name.equals(name) && m.desc.equals(descriptor))
          .forEach(m -> add(node, m));
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
      case Type.OBJECT -> touch(type.getInternalName());
      default -> {}
    }
  }

  private void touch(String className) {
    ClassNode node = cells.get(className);
    if (node == null || isWrapper(className) || !touched.add(className)) {
      return;
    }
    node.methods.forEach(method -> add(node, method));
    node.fields.forEach(field -> type(Type.getType(field.desc)));
    world.lineage(className).forEach(one -> touch(one.name()));
    for (String other : cells.keySet()) {
      if (other.startsWith(className + "$") || world.isSubtype(other, className)) {
        touch(other);
      }
    }
  }

  private void add(ClassNode owner, MethodNode method) {
    if (seen.add(owner.name + "." + method.name + method.desc)) {
      open.add(new Body(owner, method));
    }
  }
}
