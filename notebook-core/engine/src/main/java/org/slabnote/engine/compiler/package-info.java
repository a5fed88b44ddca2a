/**
 * Compiles the notebook's cells with the JShell API and runs nothing.
 *
 * <p>Start at {@link CellCompiler}. It gives the statements in order with the classes they were
 * compiled to, what each statement defines, reads and writes, and where it stands. Lines in this
 * package count from 1 at a cell's first line, so that prose may change above a compiled cell; {@link
 * Statement#line()} says the same. Whether the classes may be loaded is the gate's business.
 */
@NullMarked
package org.slabnote.engine.compiler;

import org.jspecify.annotations.NullMarked;
