package org.slabnote.engine.gate;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.FieldNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.LineNumberNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.compiler.CompiledClass;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.Problem;

/**
 * Refuses an operation declared in a cell whose code reads what may change: a cell variable, or a
 * static field that is not final.
 *
 * <p>A step is remembered by its operation, parameters and inputs. Code that reads a variable would
 * see later assignments, and its result would be remembered as if nothing had changed.
 */
final class OperationCheck {
  private static final List<String> OPERATIONS =
      List.of("org/slabnote/api/Operation", "org/slabnote/api/Filter");

  private record Body(ClassNode owner, MethodNode method) {}

  private final Map<CompiledClass, ClassNode> classes;
  private final ClassWorld world;
  private final Document document;
  private final List<Problem> problems;
  private final Map<String, ClassNode> byName = new LinkedHashMap<>();
  private final Map<String, CompiledClass> compiledByName = new LinkedHashMap<>();
  private final Set<String> variables = new HashSet<>();

  OperationCheck(
      Compiled compiled,
      Map<CompiledClass, ClassNode> classes,
      ClassWorld world,
      Document document,
      List<Problem> problems) {
    this.classes = classes;
    this.world = world;
    this.document = document;
    this.problems = problems;
    classes.forEach((one, node) -> {
      byName.put(node.name, node);
      compiledByName.put(node.name, one);
    });
    compiled.statements().forEach(s -> {
      if (!s.type().isEmpty()) {
        variables.add(s.wrapper().replace('.', '/') + "." + s.defines());
      }
    });
  }

  void check() {
    classes.values().forEach(node -> {
      if (OPERATIONS.stream().anyMatch(type -> world.isSubtype(node.name, type))) {
        operation(node);
      }
    });
  }

  private void operation(ClassNode operation) {
    Set<String> seen = new HashSet<>();
    Deque<Body> open = new ArrayDeque<>();
    String inner = operation.name + "$";
    for (ClassNode node : byName.values()) {
      if (node == operation || node.name.startsWith(inner)) {
        node.methods.forEach(method -> open.add(new Body(node, method)));
      }
    }
    while (!open.isEmpty()) {
      Body body = open.remove();
      if (seen.add(body.owner().name + "." + body.method().name + body.method().desc)) {
        body(operation, body, open);
      }
    }
  }

  private void body(ClassNode operation, Body body, Deque<Body> open) {
    int line = 1;
    for (AbstractInsnNode at : body.method().instructions) {
      if (at instanceof LineNumberNode next) {
        line = next.line;
      } else if (at instanceof FieldInsnNode field && isMutableStatic(field, body)) {
        refuse(operation, body, line, field);
      } else if (at instanceof MethodInsnNode call) {
        follow(call.owner, call.name, call.desc, open);
      } else if (at instanceof InvokeDynamicInsnNode call) {
        for (Object argument : call.bsmArgs) {
          if (argument instanceof Handle handle) {
            follow(handle.getOwner(), handle.getName(), handle.getDesc(), open);
          }
        }
      }
    }
  }

  private void follow(String owner, String name, String descriptor, Deque<Body> open) {
    ClassNode node = byName.get(owner);
    if (node != null) {
      node.methods.stream()
          .filter(m -> m.name.equals(name) && m.desc.equals(descriptor))
          .forEach(m -> open.add(new Body(node, m)));
    }
  }

  private boolean isMutableStatic(FieldInsnNode insn, Body body) {
    boolean isStatic =
        insn.getOpcode() == Opcodes.GETSTATIC || insn.getOpcode() == Opcodes.PUTSTATIC;
    if (!isStatic || !byName.containsKey(insn.owner)) {
      return false;
    }
    if (variables.contains(insn.owner + "." + insn.name)) {
      return true;
    }
    for (FieldNode field : byName.get(insn.owner).fields) {
      if (field.name.equals(insn.name)) {
        boolean initialising = body.method().name.equals("<clinit>");
        return (field.access & Opcodes.ACC_FINAL) == 0 && !initialising;
      }
    }
    return false;
  }

  private void refuse(ClassNode operation, Body body, int line, FieldInsnNode field) {
    CompiledClass at = compiledByName.get(body.owner().name);
    String cell = at == null ? "" : at.cell();
    String name = operation.name.substring(operation.name.lastIndexOf('$') + 1);
    Problem problem = new Problem(
        Problem.Kind.REFUSED,
        document.file(),
        Gate.firstLine(document, cell) + line - 1,
        cell,
        "the operation " + name + " uses the variable " + field.name
            + ", whose later changes its remembered results would not show. Make it a component "
            + "of the record: record " + name + "(... " + field.name + ")");
    if (!problems.contains(problem)) {
      problems.add(problem);
    }
  }
}
