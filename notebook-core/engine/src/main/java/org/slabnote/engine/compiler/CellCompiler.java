package org.slabnote.engine.compiler;

import java.nio.file.Path;
import java.util.List;
import jdk.jshell.JShell;
import jdk.jshell.Snippet;
import jdk.jshell.SnippetEvent;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Fault;

/**
 * Compiles the cells of a notebook, in document order, with one JShell that runs nothing.
 *
 * <p>A name is defined once; what a statement refers to stands above it. Whatever would make JShell
 * change an earlier definition behind the analyst's back is an error that names both places.
 *
 * @since 0.1
 */
public final class CellCompiler {
  private final List<Path> classPath;
  private final List<String> imports;

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
   * Compiles all cells.
   *
   * @throws BadInput with every problem found, each with its cell and line in the file
   */
  public Compiled compile(Document document) throws BadInput {
    ClassCatcher catcher = new ClassCatcher();
    try (JShell shell = open(catcher)) {
      for (String one : imports) {
        importOnce(shell, one);
      }
      Compilation compilation = new Compilation(shell, catcher, document);
      document.cells().forEach(compilation::compile);
      Compiled compiled = compilation.finish();
      return References.resolve(compiled);
    }
  }

  private JShell open(ClassCatcher catcher) {
    JShell shell = JShell.builder()
        .executionEngine(catcher.provider(), java.util.Map.of())
        .compilerOptions("--source", "17", "--target", "17", "-Xlint:-options", "-proc:none")
        .build();
    classPath.forEach(path -> shell.addToClasspath(path.toString()));
    return shell;
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
