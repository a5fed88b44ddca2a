/**
 * Whole jobs in invented settings: the slab as it is, and the scans that a survey of it would give.
 *
 * <p>Start at {@link org.slabnote.demo.BathPlantRoom}. Everything here is invented.
 */
@NullMarked
package org.slabnote.demo;

import org.jspecify.annotations.NullMarked;
