package org.slabnote.methods.path;

import org.jspecify.annotations.Nullable;

/**
 * Travel time from a transmitter over the nearest point of a target to a receiver.
 *
 * <p>Transmitter and receiver stand on the surface, {@code separation} apart along the pass, their
 * midpoint at {@code x} from the target. The velocity is constant. Path lengths do not contain the
 * velocity, so {@code t = length / v}, {@code dt/dv = -length / v^2} and {@code dt/dx = (dL/dx) / v}.
 *
 * <p>Cylinder: the shortest path that touches the surface of a straight cylinder parallel to the slab
 * surface. In the plane across the axis, {@code P} is the point of the circle where the reflection law
 * holds and {@code L = |TP| + |PR|}. Where the pass crosses the axis at the angle b, x and the
 * separation are multiplied by sin b in that plane, and the path has a part along the axis: {@code
 * length = sqrt(L^2 + (separation cos b)^2)}.
 *
 * <p>The point is found by Newton's method on dL/d(angle), kept between the directions of transmitter
 * and receiver by bisection; it stops when a step is below 1e-9 rad, where the length is right to
 * rounding because it is stationary. No trigonometric function is called: the same bits everywhere.
 *
 * <p>Source: Fermat's principle, any text. Check: TravelTimeReferenceTest (SciPy minimiser on the
 * arc).
 *
 * @since 0.1
 */
public final class TravelTime {

  /** Angle in radians below which a Newton step changes the length by less than rounding. */
  private static final double SMALL_STEP = 1e-9;

  private static final int MOST_STEPS = 100;

  private TravelTime() {}

  /**
   * A path with its derivatives.
   *
   * @param length length from transmitter over the target to receiver, m
   * @param perX derivative with respect to the midpoint's x, dimensionless
   * @param perCover derivative with respect to the cover, dimensionless
   * @param perRadius derivative with respect to the radius at constant cover, dimensionless
   */
  public record Path(double length, double perX, double perCover, double perRadius) {}

  /**
   * Length of the path over a cylinder that the pass crosses at right angles.
   *
   * @param x midpoint of the antennas less the axis, along the pass, m, any sign
   * @param cover depth to the top of the cylinder, m, above 0
   * @param radius radius, m, 0 (a point or thin wire) or more
   * @param separation transmitter to receiver, m, 0 or more
   * @return path length, m
   * @throws IllegalArgumentException if an argument is outside its range or not finite
   */
  public static double cylinderLength(double x, double cover, double radius, double separation) {
    check(x, cover, radius, separation);
    return solve(x, cover, radius, separation, null);
  }

  /**
   * Length of the path over a cylinder that the pass crosses at an angle.
   *
   * @param x midpoint of the antennas less the crossing point, along the pass, m, any sign
   * @param cover depth to the top of the cylinder, m, above 0
   * @param radius radius, m, 0 or more
   * @param separation transmitter to receiver, m, 0 or more
   * @param crossing angle between pass and axis, radians: pi/2 is square, 0 is along the cylinder
   * @return path length, m
   * @throws IllegalArgumentException if an argument is outside its range or not finite
   */
  public static double cylinderLength(
      double x, double cover, double radius, double separation, double crossing) {
    check(x, cover, radius, separation);
    double sine = StrictMath.abs(StrictMath.sin(crossing));
    double inPlane = solve(x * sine, cover, radius, separation * sine, null);
    double along = separation * StrictMath.cos(crossing);
    return Math.sqrt(inPlane * inPlane + along * along);
  }

  /**
   * Two-way time over a cylinder that the pass crosses at an angle.
   *
   * @param x midpoint of the antennas less the crossing point, along the pass, m
   * @param cover depth to the top of the cylinder, m, above 0
   * @param radius radius, m, 0 or more
   * @param separation transmitter to receiver, m, 0 or more
   * @param crossing angle between pass and axis, radians
   * @param velocity wave velocity, m/ns, above 0
   * @return two-way time, ns
   * @throws IllegalArgumentException if an argument is outside its range or not finite
   */
  public static double cylinder(
      double x, double cover, double radius, double separation, double crossing, double velocity) {
    return cylinderLength(x, cover, radius, separation, crossing) / checkVelocity(velocity);
  }

  /**
   * Path over a cylinder with its derivatives, for fits.
   *
   * @param x midpoint of the antennas less the crossing point, along the pass, m
   * @param cover depth to the top of the cylinder, m, above 0
   * @param radius radius, m, 0 or more
   * @param separation transmitter to receiver, m, 0 or more
   * @param crossing angle between pass and axis, radians
   * @return length and derivatives
   * @throws IllegalArgumentException if an argument is outside its range or not finite
   */
  public static Path cylinderPath(
      double x, double cover, double radius, double separation, double crossing) {
    check(x, cover, radius, separation);
    double sine = StrictMath.abs(StrictMath.sin(crossing));
    double along = separation * StrictMath.cos(crossing);
    double[] slope = new double[3];
    double inPlane = solve(x * sine, cover, radius, separation * sine, slope);
    double length = Math.sqrt(inPlane * inPlane + along * along);
    double factor = inPlane / length;
    return new Path(length, factor * sine * slope[0], factor * slope[1], factor * slope[2]);
  }

  /**
   * Length of the path over a plane reflector parallel to the surface: {@code sqrt(4 z^2 + s^2)}.
   *
   * @param depth depth of the plane, m, 0 or more
   * @param separation transmitter to receiver, m, 0 or more
   * @return path length, m
   * @throws IllegalArgumentException if an argument is negative or not finite
   */
  public static double planeLength(double depth, double separation) {
    range("depth", depth, depth >= 0, "m, 0 or more");
    range("separation", separation, separation >= 0, "m, 0 or more");
    return Math.sqrt(4 * depth * depth + separation * separation);
  }

  /**
   * Two-way time to a plane reflector parallel to the surface.
   *
   * @param depth depth of the plane, m, 0 or more
   * @param separation transmitter to receiver, m, 0 or more
   * @param velocity wave velocity, m/ns, above 0
   * @return two-way time, ns
   * @throws IllegalArgumentException if an argument is outside its range or not finite
   */
  public static double plane(double depth, double separation, double velocity) {
    return planeLength(depth, separation) / checkVelocity(velocity);
  }

  /**
   * Depth of a plane, or cover of a cylinder, from its time at the apex: {@code z = sqrt((v t / 2)^2 -
   * (s / 2)^2)}.
   *
   * <p>Exact for a plane parallel to the surface and for the top of a cylinder at any crossing angle
   * and of any radius, with the antennas' midpoint above the axis. Edge: {@code v t = s} gives 0.
   *
   * @param time two-way time, ns, at least separation / velocity
   * @param separation transmitter to receiver, m, 0 or more
   * @param velocity wave velocity, m/ns, above 0
   * @return depth, m
   * @throws IllegalArgumentException if the time is shorter than the direct way, or an argument is
   *     outside its range or not finite
   */
  public static double depth(double time, double separation, double velocity) {
    range("separation", separation, separation >= 0, "m, 0 or more");
    double length = checkVelocity(velocity) * time;
    range("time", time, length >= separation, "ns, at least separation / velocity");
    return Math.sqrt((length - separation) * (length + separation)) / 2;
  }

  /**
   * In-plane path; fills the slopes (x, cover, radius) where an array is given.
   *
   * <p>Frame: origin at the axis, z upward to the antennas.
   */
  private static double solve(
      double x, double cover, double a, double s, double @Nullable [] slopes) {
    double z = cover + a;
    double tx = x - s / 2;
    double rx = x + s / 2;
    double dt = Math.sqrt(tx * tx + z * z);
    double dr = Math.sqrt(rx * rx + z * z);
    double tux = tx / dt;
    double tuz = z / dt;
    double rux = rx / dr;
    double ruz = z / dr;
    double turn = Math.abs(tuz * rux - tux * ruz);
    // start: the point of a plane mirror at the circle's distance; a point target reflects anywhere
    // and takes the bisector, the limit of a shrinking circle
    double p = a == 0 ? 0.5 : (dt - a) / ((dt - a) + (dr - a));
    double low = 0;
    double high = 1;
    for (int step = 0; step < MOST_STEPS; step++) {
      double ux = tux + p * (rux - tux);
      double uz = tuz + p * (ruz - tuz);
      double norm = Math.sqrt(ux * ux + uz * uz);
      ux /= norm;
      uz /= norm;
      double legT = Math.sqrt(square(tx - a * ux) + square(z - a * uz));
      double legR = Math.sqrt(square(rx - a * ux) + square(z - a * uz));
      // angles are counted from the transmitter's direction to the receiver's
      double sinT = tuz * ux - tux * uz;
      double sinR = ruz * ux - rux * uz;
      double first = a * (dt * sinT / legT + dr * sinR / legR);
      double cosT = tux * ux + tuz * uz;
      double cosR = rux * ux + ruz * uz;
      double second = bend(dt, a, cosT, legT) + bend(dr, a, cosR, legR);
      double turned = turn / (norm * norm); // d(angle) / dp
      double move = second > 0 ? -first / second : 0;
      boolean done = a == 0 || turn == 0 || (second > 0 && Math.abs(move) < SMALL_STEP);
      if (done) {
        if (slopes != null) {
          slopes[0] = (tx - a * ux) / legT + (rx - a * ux) / legR;
          slopes[1] = (z - a * uz) * (1 / legT + 1 / legR);
          slopes[2] = ((z - a * uz) * (1 - uz) - (tx - a * ux) * ux) / legT
              + ((z - a * uz) * (1 - uz) - (rx - a * ux) * ux) / legR;
        }
        return legT + legR;
      }
      if (first > 0) {
        high = p;
      } else {
        low = p;
      }
      double next = p + move / turned;
      p = second > 0 && next > low && next < high ? next : (low + high) / 2;
    }
    throw new IllegalStateException(
        "travel time over a cylinder: no reflection point after " + MOST_STEPS + " steps at x = "
            + x + " m, cover = " + cover + " m, radius = " + a + " m, separation = " + s + " m");
  }

  /** Second derivative of a leg with respect to the angle of the point on the circle. */
  private static double bend(double d, double a, double cosine, double leg) {
    return d * a * (cosine * d - a) * (d - a * cosine) / (leg * leg * leg);
  }

  private static double square(double value) {
    return value * value;
  }

  private static void check(double x, double cover, double radius, double separation) {
    range("x", x, true, "m, finite");
    range("cover", cover, cover > 0, "m, above 0");
    range("radius", radius, radius >= 0, "m, 0 or more");
    range("separation", separation, separation >= 0, "m, 0 or more");
  }

  private static double checkVelocity(double velocity) {
    range("velocity", velocity, velocity > 0, "m/ns, above 0");
    return velocity;
  }

  private static void range(String name, double value, boolean inside, String expected) {
    if (!inside || Double.isNaN(value) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(
          "travel time: " + name + " = " + value + "; expected " + expected);
    }
  }
}
