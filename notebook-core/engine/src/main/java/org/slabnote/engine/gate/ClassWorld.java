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
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldNode;
import org.objectweb.asm.tree.MethodNode;

/** Supertypes and members of classes, read from class files: nothing is loaded or initialised. */
final class ClassWorld implements AutoCloseable {
  /**
   * What the gate needs of a class.
   *
   * @param name internal name
   * @param parents superclass and interfaces, internal names
   * @param members names with descriptors of its own methods and fields
   * @param isInterface whether it is an interface
   */
  record Info(String name, List<String> parents, Set<String> members, boolean isInterface) {}

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
      found = read(internalName);
      known.put(internalName, found);
    }
    return found;
  }

  /** The class and all its supertypes, nearest first, superclasses before interfaces. */
  List<Info> lineage(String internalName) {
    Set<String> names = new LinkedHashSet<>();
    List<Info> infos = new ArrayList<>();
    List<String> open = new ArrayList<>(List.of(internalName));
    while (!open.isEmpty()) {
      String name = open.remove(0);
      if (names.add(name)) {
        find(name).ifPresent(info -> {
          infos.add(info);
          open.addAll(info.parents());
        });
      }
    }
    return infos;
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
      new ClassReader(in).accept(node, ClassReader.SKIP_CODE | ClassReader.SKIP_DEBUG);
      return Optional.of(info(node));
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read class " + internalName, e);
    }
  }

  private static Info info(ClassNode node) {
    List<String> parents = new ArrayList<>();
    if (node.superName != null) {
      parents.add(node.superName);
    }
    parents.addAll(node.interfaces);
    Set<String> members = new LinkedHashSet<>();
    for (MethodNode method : node.methods) {
      members.add(method.name + method.desc);
    }
    for (FieldNode field : node.fields) {
      members.add(field.name + field.desc);
    }
    return new Info(node.name, parents, members, (node.access & Opcodes.ACC_INTERFACE) != 0);
  }

  @Override
  public void close() throws IOException {
    loader.close();
  }
}
