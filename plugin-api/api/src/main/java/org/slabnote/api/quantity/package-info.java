/**
 * Quantities with their units as types, and estimates with their uncertainty budgets.
 *
 * <p>Start at {@link org.slabnote.api.quantity.Quantities}, whose factories read like the trade
 * writes: {@code mm(16)}, {@code ns(1.2)}, {@code MHz(2000)}. Each type stores one number in the
 * trade's base unit (m, ns, MHz, m/ns, deg, dB, 1). A wrong unit does not compile.
 */
@NullMarked
package org.slabnote.api.quantity;

import org.jspecify.annotations.NullMarked;
