/**
 * Images of the slab in depth, made from radargrams.
 *
 * <p>Start at {@link org.slabnote.imaging.DiffractionStack}. Depths in metres from the scanned face.
 * Images guide; a call is made on the sections, and a 2-D image is right only for targets that the
 * pass crosses squarely.
 */
@NullMarked
package org.slabnote.imaging;

import org.jspecify.annotations.NullMarked;
