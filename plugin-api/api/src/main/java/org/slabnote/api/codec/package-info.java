/**
 * One byte form for every value: for digests, the store and the way between processes.
 *
 * <p>Start at {@link org.slabnote.api.codec.Canonical}.
 */
@NullMarked
package org.slabnote.api.codec;

import org.jspecify.annotations.NullMarked;
