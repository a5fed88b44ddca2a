package org.slabnote.engine.compiler;

import java.util.HashMap;
import java.util.Map;
import java.util.regex.Pattern;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.commons.ClassRemapper;
import org.objectweb.asm.commons.Remapper;

/**
 * Gives the classes of cells names that hang on nothing but their place: cell and statement. JShell
 * counts all that it ever saw, and a name enters the encoding of a value whose type a cell declares.
 */
final class ClassNames {
  private static final String PREFIX = "REPL/$JShell$";

  private static final Pattern COUNTED = Pattern.compile("\\$\\d+");

  private final Map<String, String> names = new HashMap<>();

  /** Takes over names that were given before. */
  void putAll(Map<String, String> given) {
    names.putAll(given);
  }

  /**
   * Names the wrapper of a statement.
   *
   * @param wrapper binary name that JShell gave it
   * @param number of the statement in its cell, from 1
   * @return its binary name from now on
   */
  String name(String wrapper, String cell, int number) {
    // One name for one place: an underscore begins what stands for something else.
    String place = cell.replace("_", "__").replace("-", "_h") + "_n" + number;
    String given = PREFIX + place;
    names.put(wrapper.replace('.', '/'), given);
    return given.replace('/', '.');
  }

  /** Returns the name from now on of a class, which may be nested in a wrapper; binary names. */
  String of(String className) {
    return internal(className.replace('.', '/')).replace('/', '.');
  }

  /** Returns a class with the names that were given. */
  byte[] rename(byte[] bytes) {
    ClassWriter writer = new ClassWriter(0);
    new ClassReader(bytes).accept(new ClassRemapper(writer, new Renaming()), 0);
    return writer.toByteArray();
  }

  /** Returns what was given to wrappers, by the names that JShell gave. */
  Map<String, String> given() {
    return Map.copyOf(names);
  }

  private String internal(String name) {
    if (!name.startsWith(PREFIX)) {
      return name;
    }
    int nested = name.indexOf('$', PREFIX.length());
    String wrapper = nested < 0 ? name : name.substring(0, nested);
    String given = names.getOrDefault(wrapper, wrapper);
    return nested < 0 ? given : given + name.substring(nested);
  }

  private final class Renaming extends Remapper {
    Renaming() {
      super(Opcodes.ASM9);
    }

    @Override
    public String map(String internalName) {
      return internal(internalName);
    }

    /** JShell's name for the value of an expression counts too; a wrapper holds one. */
    @Override
    public String mapFieldName(String owner, String name, String descriptor) {
      return owner.startsWith(PREFIX) && COUNTED.matcher(name).matches() ? "$" : name;
    }

    @Override
    public String mapInnerClassName(String name, String ownerName, String innerName) {
      return innerName; // the simple name of what is nested stays
    }
  }
}
