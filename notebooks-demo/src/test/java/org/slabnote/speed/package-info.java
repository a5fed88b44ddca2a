/**
 * How long things take, measured side by side with a named peer in one run and written to
 * docs/performance.md. Nothing here is a test: no build passes or fails by the clock.
 *
 * <p>Start at {@link org.slabnote.speed.Speed}.
 */
@NullMarked
package org.slabnote.speed;

import org.jspecify.annotations.NullMarked;
