package org.slabnote.engine.compiler;

import java.util.SortedSet;

/**
 * One statement of a cell, as compiled.
 *
 * @param cell name of the cell
 * @param line line within the cell, from 1, on which the statement begins
 * @param source the statement's text, stripped
 * @param kind what it is
 * @param defines the name it defines; empty when it defines none
 * @param type type of the variable as Java writes it; empty for anything but a variable
 * @param wrapper binary name of the class that holds it, such as {@code REPL.$JShell$12}; empty for an
 *     import
 * @param method static method of the wrapper to call; empty when there is nothing to call
 * @param reads names defined by other statements that it refers to
 * @param writes variables defined by other statements that it assigns
 * @since 0.1
 */
public record Statement(
    String cell,
    int line,
    String source,
    Kind kind,
    String defines,
    String type,
    String wrapper,
    String method,
    SortedSet<String> reads,
    SortedSet<String> writes) {

  /** What a statement is. */
  public enum Kind {
    /** Declares a variable. */
    VARIABLE,
    /** Declares a method. */
    METHOD,
    /** Declares a class, record, interface or enum. */
    TYPE,
    /** An import. */
    IMPORT,
    /** An expression whose value is not named. */
    EXPRESSION,
    /** Any other statement. */
    STATEMENT
  }

  Statement withReferences(SortedSet<String> read, SortedSet<String> written) {
    return new Statement(cell, line, source, kind, defines, type, wrapper, method, read, written);
  }
}
