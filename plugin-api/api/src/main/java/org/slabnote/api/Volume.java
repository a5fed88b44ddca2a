package org.slabnote.api;

import org.slabnote.api.quantity.Length;

/**
 * An image of the slab on an even grid.
 *
 * <p>The value at {@code (i, j, k)} along x, y, z lies at {@code (i * ny + j) * nz + k}.
 *
 * @param corner place of the first value on the face
 * @param top depth of the first value
 * @param dx step along x, above zero
 * @param dy step along y, above zero
 * @param dz step in depth, above zero
 * @param nx values along x
 * @param ny values along y
 * @param nz values in depth
 * @param values {@code nx * ny * nz} values; NaN in cells that nobody scanned: never interpolated
 * @param meaning what the values are, in words
 * @since 0.1
 */
public record Volume(
    Point corner,
    Length top,
    Length dx,
    Length dy,
    Length dz,
    int nx,
    int ny,
    int nz,
    Samples values,
    String meaning) {

  /**
   * Checks the sizes.
   *
   * @throws IllegalArgumentException if the number of values does not fit the grid
   */
  public Volume {
    if ((long) nx * ny * nz != values.size()) {
      throw new IllegalArgumentException("volume of " + nx + " x " + ny + " x " + nz
          + " cells with " + values.size() + " values; expected as many values as cells");
    }
  }
}
