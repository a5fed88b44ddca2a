/**
 * Reads every class of the cells before any is loaded, and refuses what a notebook may not refer to.
 *
 * <p>Start at {@link Gate}. What may be referred to stands in {@code allowed.txt}, with the reasons
 * told to people; what is not named there is refused. The gate loads no class, ever: it reads class
 * files. It guards against what cells refer to, not against what the allowed code does.
 */
@NullMarked
package org.slabnote.engine.gate;

import org.jspecify.annotations.NullMarked;
