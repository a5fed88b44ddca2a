/**
 * Remembered values on disk: a step's key to the digest of its value, a digest to its bytes.
 *
 * <p>Start at {@link org.slabnote.worker.store.Store}; a front end at {@link
 * org.slabnote.worker.store.ValueReader}. Everything read is verified; losing all of it loses time
 * only.
 */
@NullMarked
package org.slabnote.worker.store;

import org.jspecify.annotations.NullMarked;
