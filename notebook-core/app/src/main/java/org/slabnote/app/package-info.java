/**
 * The command line.
 *
 * <p>Start at {@link org.slabnote.app.Main}, which runs one command and gives an exit status: see
 * {@link org.slabnote.app.Status}. Results go to the standard output, messages and progress to the
 * standard error, both in UTF-8. Nothing is computed here: commands call the engine, and word what
 * it gives.
 */
@NullMarked
package org.slabnote.app;

import org.jspecify.annotations.NullMarked;
