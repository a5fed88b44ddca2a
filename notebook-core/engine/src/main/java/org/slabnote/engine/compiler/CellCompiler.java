package org.slabnote.engine.compiler;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import jdk.jshell.JShell;
import jdk.jshell.Snippet;
import jdk.jshell.SnippetEvent;
import org.jspecify.annotations.Nullable;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Fault;

/**
 * Compiles the cells of a notebook, in document order, with one JShell that runs nothing.
 *
 * <p>A name is defined once; what a statement refers to stands above it. Whatever would make JShell
 * change an earlier definition behind the analyst's back is an error that names both places.
 *
 * <p>What stands before the first cell that changed since the last call is kept as it was compiled;
 * the shell forgets the rest, and that is compiled again. It accepts what a shell that starts anew
 * accepts: where a kept shell finds a problem, a new one has the word.
 *
 * <p>One call at a time, from any thread.
 *
 * @since 0.1
 */
public final class CellCompiler implements AutoCloseable {
  /** A shell remembers the names of all that it forgot; after so many calls it starts anew. */
  private static final int CALLS = 200;

  /** The name that JShell gives to the value of an expression: a number that counts what it forgot. */
  private static final Pattern COUNTED = Pattern.compile("\\$\\d");

  private final List<Path> classPath;
  private final List<String> imports;
  private ClassCatcher catcher = new ClassCatcher();
  private @Nullable JShell shell;
  private List<Compilation.KeptCell> kept = List.of();
  private int calls;

  /**
   * Prepares a compiler.
   *
   * @param classPath jars and class folders whose types the cells may name
   * @param imports what every cell sees without an import of its own, such as {@code java.util.*} or
   *     {@code static org.slabnote.api.Notebook.*}
   */
  public CellCompiler(List<Path> classPath, List<String> imports) {
    this.classPath = List.copyOf(classPath);
    this.imports = List.copyOf(imports);
  }

  /**
   * Compiles all cells, or those from the first that changed since the last call.
   *
   * @throws BadInput with every problem found, each with its cell and line in the file
   */
  public synchronized Compiled compile(Document document) throws BadInput {
    int same = same(document);
    if (same > 0) {
      try {
        return compile(document, same);
      } catch (BadInput problems) {
        close(); // told by a shell that has seen nothing else
      }
    }
    close();
    return compile(document, 0);
  }

  /** Returns how many of the first cells are as they were; none where the shell must start anew. */
  private int same(Document document) {
    if (shell == null || ++calls > CALLS) {
      return 0;
    }
    List<Block.Cell> cells = document.cells();
    int same = 0;
    while (same < Math.min(kept.size(), cells.size())
        && kept.get(same).name().equals(cells.get(same).name())
        && kept.get(same).source().equals(cells.get(same).source())) {
      same++;
    }
    return cells.stream()
            .skip(same)
            .anyMatch(cell -> COUNTED.matcher(cell.source()).find())
        ? 0
        : same;
  }

  private Compiled compile(Document document, int same) throws BadInput {
    JShell open = shell == null ? open() : shell;
    shell = open;
    forget(open, kept.subList(same, kept.size()));
    List<Compilation.KeptCell> now = new ArrayList<>(kept.subList(0, same));
    kept = List.copyOf(now);
    Compilation compilation = new Compilation(open, catcher, document, kept);
    document.cells().stream().skip(same).forEach(compilation::compile);
    List<Compilation.KeptCell> good = compilation.good();
    now.addAll(good);
    kept = now;
    forget(
        open, compilation.compiled().subList(good.size(), compilation.compiled().size()));
    return References.resolve(compilation.finish());
  }

  private static void forget(JShell shell, List<Compilation.KeptCell> cells) {
    for (int i = cells.size() - 1; i >= 0; i--) {
      List<Snippet> snippets = cells.get(i).snippets();
      for (int j = snippets.size() - 1; j >= 0; j--) {
        if (shell.status(snippets.get(j)).isActive()) {
          shell.drop(snippets.get(j));
        }
      }
    }
  }

  /** Forgets everything; the next call starts anew. */
  @Override
  public synchronized void close() {
    JShell open = shell;
    if (open != null) {
      open.close();
    }
    shell = null;
    kept = List.of();
    calls = 0;
    catcher = new ClassCatcher();
  }

  private JShell open() {
    JShell made = JShell.builder()
        .executionEngine(catcher.provider(), java.util.Map.of())
        .compilerOptions("--source", "17", "--target", "17", "-Xlint:-options", "-proc:none")
        .build();
    classPath.forEach(path -> made.addToClasspath(path.toString()));
    imports.forEach(one -> importOnce(made, one));
    catcher.takeMethods();
    return made;
  }

  private static void importOnce(JShell shell, String what) {
    for (SnippetEvent event : shell.eval("import " + what + ";")) {
      if (event.status() != Snippet.Status.VALID) {
        throw new Fault("import " + what + ": the class path has no such package or type. "
            + "The installation is incomplete: install Slabnote again");
      }
    }
  }
}
