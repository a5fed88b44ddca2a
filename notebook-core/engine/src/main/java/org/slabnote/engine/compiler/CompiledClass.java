package org.slabnote.engine.compiler;

/**
 * A class that came out of a cell.
 *
 * <p>Its line numbers are those of the cell, its source file is the cell's name, and calls of {@code
 * Math} whose last bit differs between machines and JDKs are turned into calls of {@code StrictMath}.
 *
 * @param name binary name, such as {@code REPL.$JShell$12$Cover}
 * @param cell the cell it came from
 * @param statement index of the statement it came from
 * @param bytes the class file; not to be changed
 * @since 0.1
 */
@SuppressWarnings("ArrayRecordComponent") // handed on, never compared
public record CompiledClass(String name, String cell, int statement, byte[] bytes) {}
