package org.slabnote.engine.compiler;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
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
import org.objectweb.asm.tree.InsnList;
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
  private static final String OWN_TEXT = "(Ljava/lang/Object;)Ljava/lang/String;";

  private static final String OF_THROWN = "(Ljava/lang/Throwable;)Ljava/lang/String;";

  /** Their text is made of the texts of what they hold. */
  private static final Set<String> MANY = Set.of(
      "java/util/Collection",
      "java/util/List",
      "java/util/Set",
      "java/util/SortedSet",
      "java/util/Map",
      "java/util/SortedMap",
      "java/util/Map$Entry",
      "java/util/ArrayList",
      "java/util/LinkedHashMap",
      "java/util/LinkedHashSet",
      "java/util/TreeMap",
      "java/util/TreeSet",
      "java/util/AbstractCollection",
      "java/util/AbstractMap",
      "java/util/Optional",
      "java/lang/Iterable");

  /** Their text hangs on nothing but their value. */
  private static final Set<String> PLAIN = Set.of(
      "java/lang/String",
      "java/lang/Integer",
      "java/lang/Long",
      "java/lang/Short",
      "java/lang/Byte",
      "java/lang/Double",
      "java/lang/Float",
      "java/lang/Boolean",
      "java/lang/Character",
      "java/math/BigDecimal",
      "java/math/BigInteger");

  /** They make their message of the text of their cause, which a class of a cell that extends them gives out. */
  private static final Set<String> OF_A_CAUSE = Set.of(
      "java/lang/Exception",
      "java/lang/RuntimeException",
      "java/lang/IllegalArgumentException",
      "java/lang/IllegalStateException",
      "java/lang/UnsupportedOperationException",
      "java/util/ConcurrentModificationException",
      "java/util/NoSuchElementException");

  private static final String SPREAD = "([Ljava/lang/Object;)";
  private static final Map<String, String> STANDS_FOR = standsFor();
  private static final Map<String, MethodNode> TEMPLATES = templates();

  private final ClassNode node;
  private final Set<String> there = new HashSet<>();
  private int joins;
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
    names.put("java/lang/String.valueOf", "text");
    names.put("java/util/Objects.toString", "text");
    names.put("java/util/Arrays.toString", "textOfAll");
    names.put("java/lang/StringBuilder.append", "append");
    names.put("java/lang/StringBuilder.insert", "insert");
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
        } else if (!copy && takesCause(call)) {
          stateMessage(method, call);
        } else if (!copy && isText(call.name, call.desc, call.owner)) {
          standIn(call, "(Ljava/lang/Object;)Ljava/lang/String;", copied("ownText", OWN_TEXT));
        } else if (!copy
            && !isStatic
            && !ofThrown(call.owner, call.name, call.desc).isEmpty()) {
          if (call.getOpcode() != Opcodes.INVOKESPECIAL) {
            standIn(call, OF_THROWN, copied(ofThrown(call.owner, call.name, call.desc), OF_THROWN));
          }
        } else if (!copy && call.getOpcode() != Opcodes.INVOKESPECIAL) {
          String descriptor = isStatic ? call.desc : withReceiver(call.owner, call.desc);
          String name = copyFor(call.owner, call.name, descriptor);
          if (!name.isEmpty()) {
            standIn(call, descriptor, name);
          }
        }
      } else if (at instanceof InvokeDynamicInsnNode dynamic) {
        if (!copy && isConcatenation(dynamic)) {
          joined(method, dynamic);
          continue;
        }
        dynamic.bsmArgs = dynamic.bsmArgs.clone(); // a copied method shares them with its template
        for (int i = 0; i < dynamic.bsmArgs.length; i++) {
          if (dynamic.bsmArgs[i] instanceof Handle handle) {
            dynamic.bsmArgs[i] = standIn(handle, copy);
          }
        }
      }
    }
  }

  private static boolean takesCause(MethodInsnNode call) {
    return call.name.equals("<init>")
        && call.desc.equals("(Ljava/lang/Throwable;)V")
        && OF_A_CAUSE.contains(call.owner);
  }

  /** {@code super(causeText(cause), cause)} in place of {@code super(cause)}. */
  private void stateMessage(MethodNode method, MethodInsnNode call) {
    InsnList text = new InsnList();
    text.add(new InsnNode(Opcodes.DUP));
    text.add(new MethodInsnNode(
        Opcodes.INVOKESTATIC, node.name, copied("causeText", OF_THROWN), OF_THROWN, isInterface()));
    text.add(new InsnNode(Opcodes.SWAP));
    method.instructions.insertBefore(call, text);
    call.desc = "(Ljava/lang/String;Ljava/lang/Throwable;)V";
  }

  /** Whether it is {@code toString()} of a type that does not tell what text it has. */
  private static boolean isText(String name, String descriptor, String owner) {
    return name.equals("toString")
        && descriptor.equals("()Ljava/lang/String;")
        && (owner.equals("java/lang/Object") || MANY.contains(owner));
  }

  /** What stands in for the message and the text of an exception; empty for any other method. */
  private static String ofThrown(String owner, String name, String descriptor) {
    boolean thrown =
        owner.endsWith("Exception") || owner.endsWith("Throwable") || owner.endsWith("Error");
    if (!thrown || !descriptor.equals("()Ljava/lang/String;")) {
      return "";
    }
    return switch (name) {
      case "getMessage", "getLocalizedMessage" -> "messageOf";
      case "toString" -> "textOf";
      default -> "";
    };
  }

  private void standIn(MethodInsnNode call, String descriptor, String name) {
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
    if (!copy && isText(handle.getName(), handle.getDesc(), handle.getOwner())) {
      String name = copied("ownText", OWN_TEXT);
      return new Handle(Opcodes.H_INVOKESTATIC, node.name, name, OWN_TEXT, isInterface());
    }
    String thrown = ofThrown(handle.getOwner(), handle.getName(), handle.getDesc());
    if (!copy && !thrown.isEmpty() && handle.getTag() == Opcodes.H_INVOKEVIRTUAL) {
      String name = copied(thrown, OF_THROWN);
      return new Handle(Opcodes.H_INVOKESTATIC, node.name, name, OF_THROWN, isInterface());
    }
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
      method.visibleTypeAnnotations = null; // for the compiler of the template only
      method.visibleAnnotations = null;
      method.invisibleAnnotations = null;
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

  /** A text put together of what may have none of its own. */
  private static boolean isConcatenation(InvokeDynamicInsnNode call) {
    return call.bsm.getOwner().equals("java/lang/invoke/StringConcatFactory")
        && Arrays.stream(Type.getArgumentTypes(call.desc)).anyMatch(HarmlessCalls::isOpen);
  }

  private static boolean isOpen(Type type) {
    return type.getSort() == Type.OBJECT && !PLAIN.contains(type.getInternalName());
  }

  /** The same, in a method that takes the text of each by {@link Harmless#text(Object)} first. */
  private void joined(MethodNode method, InvokeDynamicInsnNode call) {
    Type[] types = Type.getArgumentTypes(call.desc);
    MethodNode joining = fresh(PREFIX + "joined" + ++joins, call.desc);
    String text = copied("text", OWN_TEXT);
    int at = 0;
    StringBuilder descriptor = new StringBuilder("(");
    for (Type type : types) {
      joining.instructions.add(new VarInsnNode(type.getOpcode(Opcodes.ILOAD), at));
      at += type.getSize();
      if (isOpen(type)) {
        joining.instructions.add(
            new MethodInsnNode(Opcodes.INVOKESTATIC, node.name, text, OWN_TEXT, isInterface()));
      }
      descriptor.append(isOpen(type) ? "Ljava/lang/String;" : type.getDescriptor());
    }
    descriptor.append(")Ljava/lang/String;");
    joining.instructions.add(
        new InvokeDynamicInsnNode(call.name, descriptor.toString(), call.bsm, call.bsmArgs));
    joining.instructions.add(new InsnNode(Opcodes.ARETURN));
    add(joining);
    method.instructions.set(
        call,
        new MethodInsnNode(
            Opcodes.INVOKESTATIC, node.name, joining.name, call.desc, isInterface()));
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
