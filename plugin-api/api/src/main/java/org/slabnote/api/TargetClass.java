package org.slabnote.api;

/**
 * What a target may be, as far as the scans can tell.
 *
 * @since 0.1
 */
@Trial
public enum TargetClass {
  /** Steel or another metal: bar, mesh, tendon, metal conduit or pipe. */
  METAL,
  /** A cylinder that is not metal: plastic pipe or conduit, whatever fills it. */
  NON_METAL,
  /** A plane: base of the slab, topping, layer, void with a wide face. */
  PLANE
}
