package org.slabnote.engine.compiler;

import java.util.List;

/**
 * The compiled cells of a notebook.
 *
 * @param statements in document order
 * @param classes in the order in which they were compiled
 * @since 0.1
 */
public record Compiled(List<Statement> statements, List<CompiledClass> classes) {
  /** Copies the lists. */
  public Compiled {
    statements = List.copyOf(statements);
    classes = List.copyOf(classes);
  }
}
