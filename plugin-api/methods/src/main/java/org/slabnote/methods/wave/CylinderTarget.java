package org.slabnote.methods.wave;

/**
 * A straight round target of metal, of one dielectric, or in two layers.
 *
 * @param radius outside radius, m, above 0
 * @param innerRadius radius of the core, m, 0 (no core) up to below the outside radius
 * @param shell permittivity outside the core, 1 to 100; infinite for metal
 * @param core permittivity of the core, 1 to 100; infinite for metal; equal to shell without a core
 * @since 0.1
 */
public record CylinderTarget(double radius, double innerRadius, double shell, double core) {

  /** Checks the ranges. */
  public CylinderTarget {
    if (!(radius > 0) || Double.isInfinite(radius)) {
      throw new IllegalArgumentException("cylinder: radius = " + radius + " m; expected above 0");
    }
    if (!(innerRadius >= 0 && innerRadius < radius)) {
      throw new IllegalArgumentException("cylinder: radius of the core = " + innerRadius
          + " m; expected 0 up to, not including, " + radius + " m, the outside radius");
    }
    check("shell", shell);
    check("core", core);
  }

  /**
   * Solid metal bar, or metal tube with a wall thicker than the skin depth (micrometres).
   *
   * @param radius outside radius, m
   * @return perfect conductor
   */
  public static CylinderTarget metal(double radius) {
    return new CylinderTarget(radius, 0, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY);
  }

  /**
   * Round body of one lossless dielectric.
   *
   * @param radius radius, m
   * @param permittivity relative permittivity
   * @return dielectric cylinder
   */
  public static CylinderTarget dielectric(double radius, double permittivity) {
    return new CylinderTarget(radius, 0, permittivity, permittivity);
  }

  /**
   * Tube with a dielectric wall and a filling.
   *
   * @param radius outside radius, m
   * @param innerRadius inside radius, m
   * @param wall permittivity of the wall
   * @param filling permittivity of the filling; infinite for metal (coated bar)
   * @return tube
   */
  public static CylinderTarget tube(
      double radius, double innerRadius, double wall, double filling) {
    return new CylinderTarget(radius, innerRadius, wall, filling);
  }

  /**
   * Whether a wave sees metal only.
   *
   * @return true if the outside is metal
   */
  public boolean isMetal() {
    return Double.isInfinite(shell);
  }

  private static void check(String part, double permittivity) {
    if (!(permittivity >= 1 && (permittivity <= 100 || Double.isInfinite(permittivity)))) {
      throw new IllegalArgumentException("cylinder: permittivity of the " + part + " = "
          + permittivity + "; expected 1 to 100, or infinity for metal");
    }
  }
}
