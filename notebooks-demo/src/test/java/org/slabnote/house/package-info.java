/**
 * The rules that every room of the house keeps, held over the compiled classes of all modules.
 *
 * <p>Start at {@link House}, which lists the modules. A rule that fails names the class and line; an
 * exception to a rule stands beside it with its reason.
 */
@NullMarked
package org.slabnote.house;

import org.jspecify.annotations.NullMarked;
