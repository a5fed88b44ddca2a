package org.slabnote.engine.gate;

import java.io.IOException;
import java.lang.reflect.Field;
import java.lang.reflect.Method;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.math3.util.FastMath;
import org.objectweb.asm.ClassReader;
import org.slabnote.api.Notebook;
import org.slabnote.engine.compiler.CellCompiler;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.compiler.CompiledClass;
import org.slabnote.engine.compiler.Statement;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import tech.tablesaw.api.Table;

/** Compiles, gates and runs cells for the tests. */
final class Cells {
  static final List<Path> CLASS_PATH = List.of(
      home(Notebook.class),
      home(FastMath.class),
      home(Table.class),
      home(ClassReader.class),
      home(GateTest.class));
  private static final List<String> IMPORTS = List.of(
      "org.slabnote.api.*",
      "static org.slabnote.api.Notebook.*",
      "static org.slabnote.api.Orientation.*",
      "org.slabnote.api.quantity.*",
      "static org.slabnote.api.quantity.Quantities.*",
      "java.util.*",
      "java.util.function.*",
      "java.util.stream.*");

  /**
   * A cell of a file of cells.
   *
   * @param cell name: "c" and its number
   * @param head what stands after "> "
   * @param source the cell, each "#" replaced by its number
   * @param marked line within the cell that ends with "//!", or 0
   */
  record Listed(String cell, String head, String source, int marked) {}

  private static final int PART = 20;

  private Cells() {}

  /** The cells of a file that lies beside the tests. */
  static List<Listed> listed(String resource) throws IOException {
    List<Listed> cells = new ArrayList<>();
    List<String> lines = new ArrayList<>();
    String head = "";
    for (String line : lines(resource)) {
      if (line.startsWith("> ")) {
        add(cells, head, lines);
        head = line.substring(2);
        lines.clear();
      } else if (!line.startsWith("#") && !line.isBlank()) {
        lines.add(line);
      }
    }
    add(cells, head, lines);
    return cells;
  }

  private static void add(List<Listed> cells, String head, List<String> lines) {
    if (!head.isEmpty()) {
      String number = Integer.toString(cells.size() + 1);
      int marked = 0;
      for (int i = 0; i < lines.size(); i++) {
        if (lines.get(i).endsWith("//!")) {
          marked = i + 1;
        }
      }
      String source = String.join("\n", lines).replaceAll("(?<=\\w)#", number).replace("//!", "");
      cells.add(new Listed("c" + number, head.replaceAll("(?<=\\w)#", number), source, marked));
    }
  }

  private static List<String> lines(String resource) throws IOException {
    try (var in = Cells.class.getResourceAsStream(resource)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8).lines().toList();
    }
  }

  /** So many cells that one notebook of them compiles soon: the more, the longer each takes. */
  static List<List<Listed>> inParts(List<Listed> cells) {
    List<List<Listed>> parts = new ArrayList<>();
    for (int i = 0; i < cells.size(); i += PART) {
      parts.add(cells.subList(i, Math.min(cells.size(), i + PART)));
    }
    return parts;
  }

  /** A notebook of the cells. */
  static Document notebook(List<Listed> cells) throws BadInput {
    StringBuilder text = new StringBuilder();
    for (Listed one : cells) {
      text.append("```java ")
          .append(one.cell())
          .append('\n')
          .append(one.source())
          .append("\n```\n");
    }
    return document(text.toString());
  }

  static Document document(String text) throws BadInput {
    return Document.parse("interpretation.md", text).orRefuse();
  }

  static Compiled compile(Document document) throws BadInput {
    return new CellCompiler(CLASS_PATH, IMPORTS).compile(document);
  }

  /** What the gate says of compiled cells; nothing where it lets them through. */
  static List<Problem> refusals(Compiled compiled, Document document) {
    try {
      new Gate(CLASS_PATH, List.of("org.slabnote.engine.gate.open")).check(compiled, document);
      return List.of();
    } catch (BadInput bad) {
      return bad.problems();
    }
  }

  static List<Problem> refusals(String text) throws BadInput {
    Document document = document(text);
    return refusals(compile(document), document);
  }

  /** Runs the statements of some cells and gives each cell's last variable as text. */
  static Map<String, String> run(Compiled compiled, java.util.function.Predicate<String> cells)
      throws ReflectiveOperationException {
    Loader loader = new Loader(compiled);
    Map<String, String> last = new LinkedHashMap<>();
    for (Statement one : compiled.statements()) {
      if (!cells.test(one.cell()) || one.wrapper().isEmpty()) {
        continue;
      }
      Class<?> wrapper = loader.loadClass(one.wrapper());
      if (!one.method().isEmpty()) {
        Method method = wrapper.getDeclaredMethod(one.method());
        method.setAccessible(true);
        method.invoke(null);
      }
      if (!one.type().isEmpty()) {
        Field field = wrapper.getDeclaredField(one.defines());
        field.setAccessible(true);
        last.put(one.cell(), String.valueOf(field.get(null)));
      }
    }
    // a later statement may have assigned it
    for (Statement one : compiled.statements()) {
      if (cells.test(one.cell()) && !one.type().isEmpty()) {
        Field field = loader.loadClass(one.wrapper()).getDeclaredField(one.defines());
        field.setAccessible(true);
        last.put(one.cell(), String.valueOf(field.get(null)));
      }
    }
    return last;
  }

  /** Loads and verifies every class. */
  static final class Loader extends ClassLoader {
    private final Map<String, byte[]> bytes = new LinkedHashMap<>();

    Loader(Compiled compiled) {
      super(Cells.class.getClassLoader());
      for (CompiledClass one : compiled.classes()) {
        bytes.put(one.name(), one.bytes());
      }
    }

    @Override
    protected Class<?> findClass(String name) throws ClassNotFoundException {
      byte[] found = bytes.get(name);
      if (found == null) {
        throw new ClassNotFoundException(name);
      }
      return defineClass(name, found, 0, found.length);
    }
  }

  static Path home(Class<?> type) {
    try {
      return Path.of(type.getProtectionDomain().getCodeSource().getLocation().toURI());
    } catch (URISyntaxException e) {
      throw new IllegalStateException(e);
    }
  }
}
