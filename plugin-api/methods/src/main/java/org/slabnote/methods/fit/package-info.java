/**
 * Least squares, weighted means, robust figures and seeded chance.
 *
 * <p>Start at {@link org.slabnote.methods.fit.LeastSquares}; several determinations of one quantity are
 * joined by {@link org.slabnote.methods.fit.WeightedMean}. Plain numbers: the caller keeps the units.
 */
@NullMarked
package org.slabnote.methods.fit;

import org.jspecify.annotations.NullMarked;
