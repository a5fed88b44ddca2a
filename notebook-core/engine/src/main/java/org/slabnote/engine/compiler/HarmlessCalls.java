package org.slabnote.engine.compiler;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.InsnNode;
import org.objectweb.asm.tree.IntInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.TypeInsnNode;
import org.objectweb.asm.tree.VarInsnNode;

/**
 * Replaces calls whose answer hangs on the machine or differs from run to run, such as {@code
 * Set.of} and {@code text.toUpperCase()}, by copies of the methods of {@link Harmless}, and method
 * references to them likewise.
 */
final class HarmlessCalls {
  /** The copies' names begin with this. */
  static final String PREFIX = "slabnote$";

  private static final String TEMPLATE = Type.getInternalName(Harmless.class);
  private static final String SPREAD = "([Ljava/lang/Object;)";
  private static final Map<String, String> STANDS_FOR = standsFor();
  private static final Map<String, MethodNode> TEMPLATES = templates();

  private final ClassNode node;
  private final Set<String> there = new HashSet<>();
  private final Deque<MethodNode> open = new ArrayDeque<>();

  HarmlessCalls(ClassNode node) {
    this.node = node;
  }

  private static Map<String, String> standsFor() {
    Map<String, String> names = new LinkedHashMap<>();
    for (String name : List.of("format", "toUpperCase", "toLowerCase")) {
      names.put("java/lang/String." + name, name);
    }
    names.put("java/lang/String.formatted", "format");
    names.put("java/util/Set.of", "setOf");
    names.put("java/util/Set.copyOf", "copyOf");
    names.put("java/util/Map.of", "mapOf");
    names.put("java/util/Map.ofEntries", "ofEntries");
    names.put("java/util/Map.copyOf", "copyOf");
    for (String name :
        List.of("toSet", "toUnmodifiableSet", "groupingBy", "toMap", "toUnmodifiableMap")) {
      names.put("java/util/stream/Collectors." + name, name);
    }
    return names;
  }

  private static Map<String, MethodNode> templates() {
    ClassNode template = new ClassNode();
    try (InputStream in = Harmless.class.getResourceAsStream("Harmless.class")) {
      if (in == null) {
        throw new IllegalStateException(
            "Harmless.class is missing from the engine's jar. Install Slabnote again");
      }
      new ClassReader(in).accept(template, ClassReader.SKIP_DEBUG);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    Map<String, MethodNode> methods = new LinkedHashMap<>();
    template.methods.forEach(method -> methods.put(method.name + method.desc, method));
    return methods;
  }

  void apply() {
    open.addAll(node.methods);
    while (!open.isEmpty()) {
      replace(open.remove());
    }
  }

  private void replace(MethodNode method) {
    boolean copy = method.name.startsWith(PREFIX);
    for (AbstractInsnNode at : method.instructions.toArray()) {
      if (at instanceof MethodInsnNode call) {
        boolean isStatic = call.getOpcode() == Opcodes.INVOKESTATIC;
        if (call.owner.equals(TEMPLATE)) {
          call.owner = node.name;
          call.name = copied(call.name, call.desc);
          call.itf = isInterface();
        } else if (!copy && isStatic || call.getOpcode() == Opcodes.INVOKEVIRTUAL && !copy) {
          standIn(call, isStatic);
        }
      } else if (at instanceof InvokeDynamicInsnNode dynamic) {
        dynamic.bsmArgs = dynamic.bsmArgs.clone(); // a copied method shares them with its template
        for (int i = 0; i < dynamic.bsmArgs.length; i++) {
          if (dynamic.bsmArgs[i] instanceof Handle handle) {
            dynamic.bsmArgs[i] = standIn(handle, copy);
          }
        }
      }
    }
  }

  private void standIn(MethodInsnNode call, boolean isStatic) {
    String descriptor = isStatic ? call.desc : withReceiver(call.owner, call.desc);
    String name = copyFor(call.owner, call.name, descriptor);
    if (name.isEmpty()) {
      return;
    }
    call.setOpcode(Opcodes.INVOKESTATIC);
    call.owner = node.name;
    call.name = name;
    call.desc = descriptor;
    call.itf = isInterface();
  }

  private Handle standIn(Handle handle, boolean copy) {
    if (handle.getOwner().equals(TEMPLATE)) {
      String name = copied(handle.getName(), handle.getDesc());
      return new Handle(handle.getTag(), node.name, name, handle.getDesc(), isInterface());
    }
    boolean isStatic = handle.getTag() == Opcodes.H_INVOKESTATIC;
    if (copy || !isStatic && handle.getTag() != Opcodes.H_INVOKEVIRTUAL) {
      return handle;
    }
    String descriptor =
        isStatic ? handle.getDesc() : withReceiver(handle.getOwner(), handle.getDesc());
    String name = copyFor(handle.getOwner(), handle.getName(), descriptor);
    return name.isEmpty()
        ? handle
        : new Handle(Opcodes.H_INVOKESTATIC, node.name, name, descriptor, isInterface());
  }

  private boolean isInterface() {
    return (node.access & Opcodes.ACC_INTERFACE) != 0;
  }

  private static String withReceiver(String owner, String descriptor) {
    return "(L" + owner + ";" + descriptor.substring(1);
  }

  /** Name of the copy that stands in for a method; empty where none does. */
  private String copyFor(String owner, String method, String descriptor) {
    String name = STANDS_FOR.get(owner + "." + method);
    if (name == null) {
      return "";
    }
    if (TEMPLATES.containsKey(name + descriptor)) {
      return copied(name, descriptor);
    }
    String spread = SPREAD + descriptor.substring(descriptor.indexOf(')') + 1);
    boolean gathers = descriptor.matches("\\((Ljava/lang/Object;)*\\).*");
    return gathers && TEMPLATES.containsKey(name + spread)
        ? gathering(name, descriptor, spread)
        : "";
  }

  private String copied(String name, String descriptor) {
    String copy = PREFIX + name;
    if (there.add(copy + descriptor)) {
      MethodNode method = fresh(copy, descriptor);
      Objects.requireNonNull(TEMPLATES.get(name + descriptor), name).accept(method);
      add(method);
    }
    return copy;
  }

  /** A method of so many objects that hands them on as one array. */
  private String gathering(String name, String descriptor, String spread) {
    String copy = PREFIX + name;
    if (there.add(copy + descriptor)) {
      int count = Type.getArgumentTypes(descriptor).length;
      MethodNode method = fresh(copy, descriptor);
      method.instructions.add(new IntInsnNode(Opcodes.BIPUSH, count));
      method.instructions.add(new TypeInsnNode(Opcodes.ANEWARRAY, "java/lang/Object"));
      for (int i = 0; i < count; i++) {
        method.instructions.add(new InsnNode(Opcodes.DUP));
        method.instructions.add(new IntInsnNode(Opcodes.BIPUSH, i));
        method.instructions.add(new VarInsnNode(Opcodes.ALOAD, i));
        method.instructions.add(new InsnNode(Opcodes.AASTORE));
      }
      String target = copied(name, spread);
      method.instructions.add(
          new MethodInsnNode(Opcodes.INVOKESTATIC, node.name, target, spread, isInterface()));
      method.instructions.add(new InsnNode(Opcodes.ARETURN));
      add(method);
    }
    return copy;
  }

  private static MethodNode fresh(String name, String descriptor) {
    int access = Opcodes.ACC_PRIVATE | Opcodes.ACC_STATIC | Opcodes.ACC_SYNTHETIC;
    return new MethodNode(Opcodes.ASM9, access, name, descriptor, null, null);
  }

  private void add(MethodNode method) {
    List<MethodNode> methods = new ArrayList<>(node.methods);
    methods.add(method);
    node.methods = methods;
    open.add(method);
  }
}
