package org.slabnote.worker;

import java.io.ByteArrayOutputStream;
import java.io.OutputStream;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import javax.tools.FileObject;
import javax.tools.ForwardingJavaFileManager;
import javax.tools.JavaCompiler;
import javax.tools.JavaFileManager;
import javax.tools.JavaFileObject;
import javax.tools.SimpleJavaFileObject;
import javax.tools.ToolProvider;
import org.slabnote.api.codec.Canonical;

/** Makes tapes from statements as the engine does: a class per statement, lines those of the cell. */
public final class TapeMaker {
  private static final String HEAD = "package REPL; import java.util.*; import org.slabnote.api.*; "
      + "import org.slabnote.api.quantity.*; import org.slabnote.fake.*; "
      + "import static org.slabnote.api.Notebook.*; import static org.slabnote.api.Orientation.*; ";

  private final List<Tape.Cell> cells = new ArrayList<>();
  private final List<Tape.Snippet> snippets = new ArrayList<>();
  private final Map<String, String> sources = new LinkedHashMap<>();
  private final Map<String, String> cellOfClass = new LinkedHashMap<>();
  private final StringBuilder imports = new StringBuilder();
  private String cell = "";
  private int firstLine;
  private int line;

  /** Begins a cell whose first line of code is this line of the file. */
  public TapeMaker cell(String name, int firstLineInFile) {
    cell = name;
    firstLine = firstLineInFile;
    line = 1;
    cells.add(new Tape.Cell(name, firstLine, Canonical.digest(name)));
    return this;
  }

  /** Declares a variable. */
  public TapeMaker let(String type, String name, String expression) {
    String wrapper = wrapper();
    String code = "public static Object do_it$() throws Throwable { return " + name + " = "
        + expression + "; }";
    add(wrapper, "public static " + type + " " + name + "; " + code, "do_it$", name, expression);
    imports.append("import static ").append(wrapper).append('.').append(name).append("; ");
    return this;
  }

  /** Adds a statement. */
  public TapeMaker say(String statements) {
    add(
        wrapper(),
        "public static void do_it$() throws Throwable { " + statements + " }",
        "do_it$",
        "",
        statements);
    return this;
  }

  /** Declares a type or a method, as a static member. */
  public TapeMaker declare(String name, String code) {
    String wrapper = wrapper();
    add(wrapper, code, "", "", code);
    imports.append("import static ").append(wrapper).append('.').append(name).append("; ");
    return this;
  }

  private String wrapper() {
    return "REPL.$JShell$" + (sources.size() + 1);
  }

  private void add(String wrapper, String body, String method, String variable, String text) {
    String name = wrapper.substring("REPL.".length());
    sources.put(
        wrapper,
        "\n".repeat(line - 1) + HEAD + imports + "public class " + name + " { " + body + " }");
    cellOfClass.put(wrapper, cell);
    snippets.add(new Tape.Snippet(cell, firstLine - 1 + line, text, wrapper, method, variable));
    line += 1 + (int) text.chars().filter(c -> c == '\n').count();
  }

  /** Compiles. */
  public Tape tape() {
    JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
    Map<String, ByteArrayOutputStream> out = new LinkedHashMap<>();
    List<JavaFileObject> in = new ArrayList<>();
    sources.forEach((name, text) -> in.add(new Source(name, text)));
    JavaFileManager files =
        new Memory(compiler.getStandardFileManager(null, null, StandardCharsets.UTF_8), out);
    boolean fine = compiler
        .getTask(
            null,
            files,
            null,
            List.of(
                "-proc:none",
                "-Xlint:-options",
                "--source",
                "17",
                "--target",
                "17",
                "-cp",
                System.getProperty("java.class.path")),
            null,
            in)
        .call();
    if (!fine) {
      throw new IllegalStateException("cells do not compile");
    }
    List<Tape.CellClass> classes = new ArrayList<>();
    out.forEach((name, bytes) -> {
      String wrapper = cellOfClass.keySet().stream()
          .filter(w -> name.equals(w) || name.startsWith(w + "$"))
          .findFirst()
          .orElseThrow();
      classes.add(Tape.CellClass.of(name, cellOfClass.get(wrapper), bytes.toByteArray()));
    });
    return new Tape(cells, snippets, classes);
  }

  private static final class Source extends SimpleJavaFileObject {
    private final String text;

    Source(String name, String text) {
      super(URI.create("memory:///" + name.replace('.', '/') + ".java"), Kind.SOURCE);
      this.text = text;
    }

    @Override
    public CharSequence getCharContent(boolean ignoreErrors) {
      return text;
    }
  }

  private static final class Memory extends ForwardingJavaFileManager<JavaFileManager> {
    private final Map<String, ByteArrayOutputStream> out;

    Memory(JavaFileManager files, Map<String, ByteArrayOutputStream> out) {
      super(files);
      this.out = out;
    }

    @Override
    public JavaFileObject getJavaFileForOutput(
        Location location, String name, JavaFileObject.Kind kind, FileObject sibling) {
      return new SimpleJavaFileObject(
          URI.create("memory:///" + name.replace('.', '/') + ".class"), kind) {
        @Override
        public OutputStream openOutputStream() {
          ByteArrayOutputStream bytes = new ByteArrayOutputStream();
          out.put(name, bytes);
          return bytes;
        }
      };
    }
  }
}
