package org.slabnote.engine.compiler;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.IntUnaryOperator;
import java.util.regex.Pattern;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Label;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.FrameNode;
import org.objectweb.asm.tree.InsnList;
import org.objectweb.asm.tree.InsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.JumpInsnNode;
import org.objectweb.asm.tree.LabelNode;
import org.objectweb.asm.tree.LdcInsnNode;
import org.objectweb.asm.tree.LineNumberNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.TryCatchBlockNode;
import org.objectweb.asm.tree.TypeInsnNode;

/**
 * Gives a class the cell's name and lines, and makes harmless what can be.
 *
 * <ul>
 *   <li>{@code Math.cbrt}, {@code Math.tanh} and others answer with different last bits on different
 *       JDKs and processors; their namesakes in {@code StrictMath} do not.
 *   <li>A {@code HashMap} and a {@code HashSet} become linked ones, which have an order.
 *   <li>Calls that depend on the locale get the root locale, and sets and maps in no order get one:
 *       see {@link HarmlessCalls}.
 *   <li>A class without a {@code toString} would show its identity; it shows its name.
 *   <li>An operation's record copies the lists it is made of, so that nobody changes them afterwards.
 *   <li>{@code finally} lets an {@code Error} pass at once: it could swallow the engine's stop, and
 *       where a stack overflows differs between machines.
 * </ul>
 */
final class StrictRewriter {
  private static final String MATH = "java/lang/Math";
  private static final String STRICT = "java/lang/StrictMath";
  private static final Set<String> TRANSCENDENTAL = Set.of(
      "sin", "cos", "tan", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "exp", "expm1",
      "log", "log10", "log1p", "pow", "cbrt", "hypot");
  private static final Map<String, String> LINKED = Map.of(
      "java/util/HashMap", "java/util/LinkedHashMap",
      "java/util/HashSet", "java/util/LinkedHashSet");
  private static final Pattern WRAPPER = Pattern.compile("REPL/\\$JShell\\$\\w+");
  private static final String TO_STRING = "()Ljava/lang/String;";

  private static final Set<String> OPERATIONS =
      Set.of("org/slabnote/api/Operation", "org/slabnote/api/Filter");
  private static final String LIST = "java/util/List";

  private StrictRewriter() {}

  static byte[] rewrite(byte[] classFile, String sourceName, IntUnaryOperator line) {
    ClassNode node = new ClassNode();
    new ClassReader(classFile).accept(node, 0);
    node.sourceFile = sourceName;
    node.sourceDebug = null;
    node.superName = LINKED.getOrDefault(node.superName, node.superName);
    for (MethodNode method : node.methods) {
      method(method, line);
    }
    new HarmlessCalls(node).apply();
    nameIfTextless(node);
    copyLists(node);
    ClassWriter writer = new ClassWriter(ClassWriter.COMPUTE_MAXS);
    node.accept(writer);
    return writer.toByteArray();
  }

  private static void method(MethodNode method, IntUnaryOperator line) {
    for (AbstractInsnNode at : method.instructions) {
      if (at instanceof LineNumberNode number) {
        number.line = line.applyAsInt(number.line);
      } else if (at instanceof MethodInsnNode call) {
        call.owner = owner(call.owner, call.name);
      } else if (at instanceof TypeInsnNode type && type.getOpcode() == Opcodes.NEW) {
        type.desc = LINKED.getOrDefault(type.desc, type.desc);
      } else if (at instanceof InvokeDynamicInsnNode dynamic) {
        Arrays.setAll(dynamic.bsmArgs, i -> argument(dynamic.bsmArgs[i]));
      }
    }
    letErrorsPass(method);
  }

  private static Object argument(Object argument) {
    return argument instanceof Handle h
        ? new Handle(
            h.getTag(), owner(h.getOwner(), h.getName()), h.getName(), h.getDesc(), h.isInterface())
        : argument;
  }

  private static String owner(String owner, String name) {
    if (owner.equals(MATH) && TRANSCENDENTAL.contains(name)) {
      return STRICT;
    }
    return name.equals("<init>") ? LINKED.getOrDefault(owner, owner) : owner;
  }

  /** At the start of what the compiler made of {@code finally}: {@code if (t instanceof Error) throw t}. */
  private static void letErrorsPass(MethodNode method) {
    List<TryCatchBlockNode> all =
        method.tryCatchBlocks.stream().filter(block -> block.type == null).toList();
    method.tryCatchBlocks.removeIf(block -> block.type == null && block.start == block.handler);
    Set<LabelNode> done = new java.util.LinkedHashSet<>();
    for (TryCatchBlockNode block : all) {
      if (done.add(block.handler)) {
        AbstractInsnNode first = block.handler;
        while (first.getOpcode() < 0) {
          first = first.getNext();
        }
        LabelNode goOn = new LabelNode(new Label());
        InsnList check = new InsnList();
        check.add(new InsnNode(Opcodes.DUP));
        check.add(new TypeInsnNode(Opcodes.INSTANCEOF, "java/lang/Error"));
        check.add(new JumpInsnNode(Opcodes.IFEQ, goOn));
        check.add(new InsnNode(Opcodes.ATHROW));
        check.add(goOn);
        check.add(new FrameNode(Opcodes.F_SAME1, 0, null, 1, new Object[] {"java/lang/Throwable"}));
        method.instructions.insertBefore(first, check);
      }
    }
  }

  private static void copyLists(ClassNode node) {
    if (!"java/lang/Record".equals(node.superName)
        || node.interfaces.stream().noneMatch(OPERATIONS::contains)) {
      return;
    }
    for (MethodNode method : node.methods) {
      for (AbstractInsnNode at : method.instructions.toArray()) {
        if (method.name.equals("<init>")
            && at instanceof FieldInsnNode field
            && field.getOpcode() == Opcodes.PUTFIELD
            && field.desc.equals("L" + LIST + ";")) {
          method.instructions.insertBefore(
              at,
              new MethodInsnNode(
                  Opcodes.INVOKESTATIC,
                  LIST,
                  "copyOf",
                  "(Ljava/util/Collection;)Ljava/util/List;",
                  true));
        }
      }
    }
  }

  private static void nameIfTextless(ClassNode node) {
    boolean inherits = "java/lang/Object".equals(node.superName)
        && (node.access & Opcodes.ACC_INTERFACE) == 0
        && !WRAPPER.matcher(node.name).matches();
    boolean declares = node.methods.stream()
        .anyMatch(method -> method.name.equals("toString") && method.desc.equals(TO_STRING));
    if (!inherits || declares) {
      return;
    }
    String name = node.name.substring(node.name.lastIndexOf('$') + 1);
    MethodNode text = new MethodNode(
        Opcodes.ASM9,
        Opcodes.ACC_PUBLIC | Opcodes.ACC_SYNTHETIC,
        "toString",
        TO_STRING,
        null,
        null);
    text.instructions.add(new LdcInsnNode(name.matches("\\d+") ? "an object" : name));
    text.instructions.add(new InsnNode(Opcodes.ARETURN));
    node.methods.add(text);
  }
}
