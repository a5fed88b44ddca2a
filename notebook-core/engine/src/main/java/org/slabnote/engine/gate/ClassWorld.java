package org.slabnote.engine.gate;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.MalformedURLException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.MethodNode;

/** Supertypes and members of classes, read from class files: nothing is loaded or initialised. */
final class ClassWorld implements AutoCloseable {
  /**
   * What the gate needs of a class.
   *
   * @param name internal name
   * @param superName internal name of the superclass; null for Object only
   * @param interfaces internal names
   * @param members access flags of its own methods and fields, by name with descriptor
   * @param access access flags of the class
   * @param components descriptor, or signature where there is one, of each component of a record whose
   *     text the compiler made
   */
  record Info(
      String name,
      @Nullable String superName,
      List<String> interfaces,
      Map<String, Integer> members,
      int access,
      List<String> components) {
    boolean isInterface() {
      return (access & Opcodes.ACC_INTERFACE) != 0;
    }

    boolean isAbstract() {
      return (access & Opcodes.ACC_ABSTRACT) != 0;
    }

    boolean declares(String member) {
      return members.containsKey(member);
    }

    boolean isAbstract(String member) {
      return (members.getOrDefault(member, 0) & Opcodes.ACC_ABSTRACT) != 0;
    }
  }

  /** Classes of the JDK at work, which stay what they are. */
  private static final Map<String, Optional<Info>> JDK = new ConcurrentHashMap<>();

  private final Map<String, Optional<Info>> known = new HashMap<>();
  private final URLClassLoader loader;

  ClassWorld(List<Path> classPath) {
    URL[] urls = new URL[classPath.size()];
    for (int i = 0; i < urls.length; i++) {
      try {
        urls[i] = classPath.get(i).toUri().toURL();
      } catch (MalformedURLException e) {
        throw new IllegalArgumentException(classPath.get(i) + " cannot stand on a class path", e);
      }
    }
    loader = new URLClassLoader(urls, ClassLoader.getPlatformClassLoader());
  }

  void add(ClassNode node) {
    known.put(node.name, Optional.of(info(node)));
  }

  Optional<Info> find(String internalName) {
    Optional<Info> found = known.get(internalName);
    if (found == null) {
      found = internalName.startsWith("java/")
          ? JDK.computeIfAbsent(internalName, this::read)
          : read(internalName);
      known.put(internalName, found);
    }
    return found;
  }

  /**
   * The class and all its supertypes in the order in which the JVM looks for a member: the class, its
   * superclasses, then the interfaces of all these.
   */
  List<Info> lineage(String internalName) {
    Map<String, Info> found = new LinkedHashMap<>();
    List<String> open = new ArrayList<>();
    for (Info one : superclasses(internalName)) {
      found.put(one.name(), one);
      open.addAll(one.interfaces());
    }
    while (!open.isEmpty()) {
      String name = open.remove(0);
      if (!found.containsKey(name)) {
        find(name).ifPresent(info -> {
          found.put(name, info);
          open.addAll(info.interfaces());
        });
      }
    }
    return List.copyOf(found.values());
  }

  /** The class and its superclasses, nearest first. */
  List<Info> superclasses(String internalName) {
    Map<String, Info> found = new LinkedHashMap<>();
    String name = internalName;
    while (name != null && !found.containsKey(name)) {
      Optional<Info> info = find(name);
      if (info.isEmpty()) {
        break;
      }
      found.put(name, info.get());
      name = info.get().superName();
    }
    return List.copyOf(found.values());
  }

  boolean isSubtype(String internalName, String ancestor) {
    return lineage(internalName).stream().anyMatch(info -> info.name().equals(ancestor));
  }

  private Optional<Info> read(String internalName) {
    try (InputStream in = loader.getResourceAsStream(internalName + ".class")) {
      if (in == null) {
        return Optional.empty();
      }
      ClassNode node = new ClassNode();
      ClassReader reader = new ClassReader(in);
      boolean record = "java/lang/Record".equals(reader.getSuperName());
      int skipped = ClassReader.SKIP_FRAMES | ClassReader.SKIP_DEBUG;
      reader.accept(node, record ? skipped : skipped | ClassReader.SKIP_CODE);
      return Optional.of(info(node));
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read class " + internalName, e);
    }
  }

  private static Info info(ClassNode node) {
    Map<String, Integer> members = new LinkedHashMap<>();
    for (MethodNode method : node.methods) {
      members.put(method.name + method.desc, method.access);
    }
    for (FieldNode field : node.fields) {
      members.put(field.name + field.desc, field.access);
    }
    return new Info(
        node.name,
        node.superName,
        List.copyOf(node.interfaces),
        members,
        node.access,
        shownComponents(node));
  }

  private static List<String> shownComponents(ClassNode node) {
    List<String> components = new ArrayList<>();
    for (MethodNode method : node.methods) {
      boolean text = method.name.equals("toString") && method.desc.equals("()Ljava/lang/String;");
      for (AbstractInsnNode at : method.instructions) {
        if (text
            && node.recordComponents != null
            && at instanceof InvokeDynamicInsnNode call
            && call.bsm.getOwner().equals("java/lang/runtime/ObjectMethods")) {
          node.recordComponents.forEach(
              one -> components.add(one.signature == null ? one.descriptor : one.signature));
        }
      }
    }
    return components;
  }

  @Override
  public void close() throws IOException {
    loader.close();
  }
}
