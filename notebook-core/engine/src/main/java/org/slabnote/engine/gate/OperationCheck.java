package org.slabnote.engine.gate;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.FieldNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.LineNumberNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.RecordComponentNode;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.compiler.CompiledClass;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.Problem;

/**
 * Refuses an operation declared in a cell whose code reads what is no part of it: a cell variable, a
 * static field that can change, or the notebook.
 *
 * <p>A step is remembered by its operation, parameters and inputs. Code that reads anything else would
 * see later changes, and its result would be remembered as if nothing had changed.
 */
final class OperationCheck {
  private static final List<String> OPERATIONS =
      List.of("org/slabnote/api/Operation", "org/slabnote/api/Filter");
  private static final String NOTEBOOK = "org/slabnote/api/Notebook";

  private final ClassWorld world;
  private final Document document;
  private final List<Problem> problems;
  private final Constants constants;
  private final Map<String, ClassNode> cells = new LinkedHashMap<>();
  private final Map<String, CompiledClass> compiledByName = new LinkedHashMap<>();
  private final Set<String> variables = new HashSet<>();

  OperationCheck(
      Compiled compiled,
      Map<CompiledClass, ClassNode> classes,
      ClassWorld world,
      Document document,
      List<Problem> problems) {
    this.world = world;
    this.document = document;
    this.problems = problems;
    classes.forEach((one, node) -> {
      cells.put(node.name, node);
      compiledByName.put(node.name, one);
    });
    this.constants = new Constants(world, cells);
    compiled.statements().forEach(s -> {
      if (!s.type().isEmpty()) {
        variables.add(s.wrapper().replace('.', '/') + "." + s.defines());
      }
    });
  }

  void check(ClassNode node) {
    boolean isInterface = (node.access & Opcodes.ACC_INTERFACE) != 0;
    if (isOperation(node.name) && !isInterface) {
      operation(node);
    }
    node.methods.forEach(method -> lambdas(node, method));
  }

  private boolean isOperation(String className) {
    return OPERATIONS.stream().anyMatch(type -> world.isSubtype(className, type));
  }

  private void lambdas(ClassNode node, MethodNode method) {
    int line = 1;
    for (AbstractInsnNode at : method.instructions) {
      if (at instanceof LineNumberNode next) {
        line = next.line;
      } else if (at instanceof InvokeDynamicInsnNode call
          && call.bsm.getOwner().equals("java/lang/invoke/LambdaMetafactory")
          && isOperation(Type.getReturnType(call.desc).getInternalName())) {
        refuse(
            node,
            line,
            "a lambda is no operation: it has no name and no parameters to remember its result by. "
                + "Declare a record that implements Operation");
      }
    }
  }

  private void operation(ClassNode operation) {
    String name = Refusals.shown(operation.name);
    if (!"java/lang/Record".equals(operation.superName)) {
      refuse(
          operation,
          firstLine(operation),
          "the operation " + name + " is no record, so that its parameters cannot be told. "
              + "Declare it as a record, with its inputs and parameters as components");
      return;
    }
    if (operation.recordComponents != null) {
      operation.recordComponents.forEach(one -> component(operation, name, one));
    }
    for (OperationReach.Body body : new OperationReach(cells, world).of(operation)) {
      body(name, body);
    }
  }

  private void component(ClassNode operation, String name, RecordComponentNode one) {
    if (!constants.isStable(operation, one.name, Type.getType(one.descriptor))) {
      refuse(
          operation,
          firstLine(operation),
          "the component " + one.name + " of the operation " + name
              + " is of a type that can change after the step is stated. "
              + "Use a quantity, a number, a text, an enum, a record or a List, which is copied");
    }
    for (MethodNode method : operation.methods) {
      boolean accessor = method.name.equals(one.name) && method.desc.equals("()" + one.descriptor);
      if (accessor && !isPlain(method)) {
        refuse(
            operation,
            firstLine(operation),
            "the operation " + name + " gives out its component " + one.name
                + " by a method of its own, so that another value may be remembered than is used. "
                + "Leave the method out, or give it another name");
      }
    }
  }

  /** {@code return this.x;} and nothing else. */
  private static boolean isPlain(MethodNode accessor) {
    List<Integer> opcodes = new ArrayList<>();
    for (AbstractInsnNode at : accessor.instructions) {
      if (at.getOpcode() >= 0) {
        opcodes.add(at.getOpcode());
      }
      if (at instanceof FieldInsnNode field && !field.name.equals(accessor.name)) {
        return false;
      }
    }
    return opcodes.size() == 3
        && opcodes.get(0) == Opcodes.ALOAD
        && opcodes.get(1) == Opcodes.GETFIELD;
  }

  private void body(String operation, OperationReach.Body body) {
    int line = firstLine(body.owner());
    for (AbstractInsnNode at : body.method().instructions) {
      if (at instanceof LineNumberNode next) {
        line = next.line;
      } else if (at instanceof FieldInsnNode field && isChanging(field, body)) {
        boolean variable = variables.contains(field.owner + "." + field.name);
        refuse(
            body.owner(),
            line,
            "the operation " + operation + " uses the " + (variable ? "variable " : "static field ")
                + field.name
                + ", whose later changes its remembered results would not show. Make it a component "
                + "of the record: record " + operation + "(... " + field.name + ")"
                + (variable ? "" : ", or a static final number, text, record or List.of(...)"));
      } else if (at instanceof MethodInsnNode call) {
        called(operation, body, line, call.owner, call.name);
      } else if (at instanceof InvokeDynamicInsnNode bound) {
        for (Object argument : bound.bsmArgs) {
          if (argument instanceof Handle handle) {
            called(operation, body, line, handle.getOwner(), handle.getName());
          }
        }
      }
    }
  }

  private void called(
      String operation, OperationReach.Body body, int line, String owner, String name) {
    if (states(owner, name)) {
      refuse(
          body.owner(),
          line,
          "the operation " + operation + " states a step by " + name
              + "(...) while it runs, which the record would not show. "
              + "State the step in the cell and make it a component of the record");
    } else if (owner.equals(NOTEBOOK)) {
      refuse(
          body.owner(),
          line,
          "the operation " + operation + " asks the notebook by " + name
              + "(...), which its remembered results would not show. Make what it needs a component "
              + "of the record: a Step, or a parameter");
    }
  }

  private static boolean states(String owner, String name) {
    boolean steps = owner.equals("org/slabnote/api/Step") || owner.equals("org/slabnote/api/Steps");
    return steps && (name.equals("then") || name.equals("each"));
  }

  private boolean isChanging(FieldInsnNode insn, OperationReach.Body body) {
    boolean isStatic =
        insn.getOpcode() == Opcodes.GETSTATIC || insn.getOpcode() == Opcodes.PUTSTATIC;
    if (!isStatic) {
      return false;
    }
    if (variables.contains(insn.owner + "." + insn.name)) {
      return true;
    }
    for (ClassWorld.Info one : world.lineage(insn.owner)) {
      ClassNode node = cells.get(one.name());
      for (FieldNode field : node == null ? List.<FieldNode>of() : node.fields) {
        if (field.name.equals(insn.name)) {
          boolean making =
              body.method().name.equals("<clinit>") && body.owner().name.equals(one.name());
          return !making && !constants.isConstant(one.name(), field);
        }
      }
    }
    return false;
  }

  private static int firstLine(ClassNode node) {
    int line = Integer.MAX_VALUE;
    for (MethodNode method : node.methods) {
      for (AbstractInsnNode at : method.instructions) {
        if (at instanceof LineNumberNode number) {
          line = Math.min(line, number.line);
        }
      }
    }
    return line == Integer.MAX_VALUE ? 1 : line;
  }

  private void refuse(ClassNode where, int line, String message) {
    CompiledClass at = compiledByName.get(where.name);
    String cell = at == null ? "" : at.cell();
    Problem problem = new Problem(
        Problem.Kind.REFUSED,
        document.file(),
        Gate.firstLine(document, cell) + line - 1,
        cell,
        message);
    if (!problems.contains(problem)) {
      problems.add(problem);
    }
  }
}
