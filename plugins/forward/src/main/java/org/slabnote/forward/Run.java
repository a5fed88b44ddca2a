package org.slabnote.forward;

/**
 * One straight run of a cylinder in space, with x, y on plan and z down.
 *
 * <p>Antenna places are points of the plane z = 0.
 */
final class Run {
  /** Over which length beyond its end a run fades, metres: ends diffract, they do not cut off. */
  private static final double FADE = 0.03;

  final Cylinder cylinder;
  final double radius;
  private final double x0;
  private final double y0;
  private final double z0;
  private final double length;
  /** Unit vector along the axis. */
  final double ax;

  final double ay;
  final double az;
  /** Horizontal unit vector square to the axis. */
  final double nx;

  final double ny;

  Run(Cylinder cylinder, Node from, Node to) {
    this.cylinder = cylinder;
    radius = cylinder.diameter().value() / 2;
    x0 = from.place().x().value();
    y0 = from.place().y().value();
    z0 = from.depth().value() + radius;
    double dx = to.place().x().value() - x0;
    double dy = to.place().y().value() - y0;
    double dz = to.depth().value() + radius - z0;
    length = Math.sqrt(dx * dx + dy * dy + dz * dz);
    double flat = Math.sqrt(dx * dx + dy * dy);
    if (flat == 0) {
      throw new IllegalArgumentException("cylinder " + cylinder.name()
          + ": two nodes at one place on plan; expected a run that goes somewhere");
    }
    ax = dx / length;
    ay = dy / length;
    az = dz / length;
    nx = -dy / flat;
    ny = dx / flat;
  }

  /** Distance along the axis from its first node to the foot of (x, y, z). */
  double foot(double x, double y, double z) {
    return (x - x0) * ax + (y - y0) * ay + (z - z0) * az;
  }

  /** Horizontal distance of a place from the axis, square to it, signed. */
  double offset(double x, double y) {
    return (x - x0) * nx + (y - y0) * ny;
  }

  /** Distance of the axis from the plane z = 0 in the plane square to the axis at the foot of (x, y, 0). */
  double height(double x, double y) {
    double t = foot(x, y, 0);
    double px = x0 + t * ax - x;
    double py = y0 + t * ay - y;
    double pz = z0 + t * az;
    double along = offset(x, y);
    return Math.sqrt(Math.max(0, px * px + py * py + pz * pz - along * along));
  }

  /** Depth of the axis at a foot. */
  double depthAt(double foot) {
    return z0 + foot * az;
  }

  double xAt(double foot) {
    return x0 + foot * ax;
  }

  double yAt(double foot) {
    return y0 + foot * ay;
  }

  /** One within the run, fading to zero beyond its ends. */
  double weight(double foot) {
    double beyond = Math.max(-foot, foot - length);
    if (beyond <= 0) {
      return 1;
    }
    return beyond >= FADE ? 0 : 0.5 * (1 + StrictMath.cos(StrictMath.PI * beyond / FADE));
  }
}
