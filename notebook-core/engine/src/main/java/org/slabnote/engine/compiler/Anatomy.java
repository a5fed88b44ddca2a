package org.slabnote.engine.compiler;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.commons.ClassRemapper;
import org.objectweb.asm.commons.Remapper;
import org.slabnote.api.codec.Canonical;

/**
 * What each statement does, apart from where it stands: lines, comments, layout, imports and the
 * numbers that the compiler gives to statements do not count.
 *
 * @since 0.1
 */
public final class Anatomy {
  private static final String PREFIX = "REPL/$JShell$";

  /**
   * What a statement does.
   *
   * @param code digest of its own byte code with the names of other statements in place of their
   *     numbers; empty for an import
   * @param readings parts of the job sheet, the survey table and the proposed cuts that it reads
   * @param shared whether the variable it declares may hold something that others can change in place,
   *     a list say
   * @param changes whether it may change in place what others hold
   */
  public record Part(String code, List<Reading> readings, boolean shared, boolean changes) {
    /** Copies the list. */
    public Part {
      readings = List.copyOf(readings);
    }
  }

  private final Compiled compiled;
  private final Map<String, String> labels = new HashMap<>();
  private final Map<String, String> own = new LinkedHashMap<>();
  private final Map<String, Set<String>> names = new HashMap<>();

  private Anatomy(Compiled compiled) {
    this.compiled = compiled;
    for (Statement one : compiled.statements()) {
      labels.put(
          one.wrapper().replace('.', '/'), one.defines().isEmpty() ? "statement" : one.defines());
    }
    for (CompiledClass one : compiled.classes()) {
      Labelling labelling = new Labelling();
      ClassWriter writer = new ClassWriter(0);
      new ClassReader(one.bytes())
          .accept(new ClassRemapper(writer, labelling), ClassReader.SKIP_DEBUG);
      String name = one.name().replace('.', '/');
      own.put(name, labelling.map(name) + " " + Canonical.sha256(writer.toByteArray()));
      names.put(name, labelling.seen);
    }
  }

  /** Takes compiled cells apart. */
  public static Anatomy of(Compiled compiled) {
    return new Anatomy(compiled);
  }

  /** The statements, in order. */
  public List<Statement> statements() {
    return compiled.statements();
  }

  /** What each statement does, in order. */
  public List<Part> parts() {
    List<List<CompiledClass>> classes = new ArrayList<>();
    compiled.statements().forEach(one -> classes.add(new ArrayList<>()));
    compiled.classes().forEach(one -> classes.get(one.statement()).add(one));
    List<Part> parts = new ArrayList<>();
    for (int i = 0; i < classes.size(); i++) {
      Statement statement = compiled.statements().get(i);
      PartFinder finder = new PartFinder(statement);
      List<String> code = new ArrayList<>();
      for (CompiledClass one : classes.get(i)) {
        code.add(own.getOrDefault(one.name().replace('.', '/'), ""));
        finder.look(one.bytes());
      }
      Collections.sort(code);
      parts.add(new Part(
          code.isEmpty() ? "" : Canonical.digest(code),
          finder.readings(),
          finder.shared(),
          finder.changes()));
    }
    return parts;
  }

  /**
   * Digest of what a class and all classes of cells that it names do, and so on.
   *
   * @param name binary name
   */
  public String meaning(String name) {
    Set<String> found = new LinkedHashSet<>();
    Deque<String> open = new ArrayDeque<>();
    open.add(name.replace('.', '/'));
    while (!open.isEmpty()) {
      String next = open.remove();
      if (own.containsKey(next) && found.add(next)) {
        open.addAll(names.getOrDefault(next, Set.of()));
      }
    }
    List<String> all = new ArrayList<>();
    found.forEach(one -> all.add(own.getOrDefault(one, "")));
    Collections.sort(all);
    return Canonical.digest(all);
  }

  /** Puts names of statements in place of numbers, and notes which classes of cells are named. */
  private final class Labelling extends Remapper {
    final Set<String> seen = new TreeSet<>();

    Labelling() {
      super(org.objectweb.asm.Opcodes.ASM9);
    }

    @Override
    public String map(String internalName) {
      if (!internalName.startsWith(PREFIX)) {
        return internalName;
      }
      seen.add(internalName);
      int nested = internalName.indexOf('$', PREFIX.length());
      String wrapper = nested < 0 ? internalName : internalName.substring(0, nested);
      String rest = nested < 0 ? "" : internalName.substring(nested);
      String label = labels.get(wrapper);
      return label == null ? internalName : "REPL/" + label + rest;
    }

    /** The variable that holds the value of an expression has a number for a name. */
    @Override
    public String mapFieldName(String owner, String name, String descriptor) {
      return owner.startsWith(PREFIX) && name.matches("\\$\\d+") ? "$value" : name;
    }
  }
}
