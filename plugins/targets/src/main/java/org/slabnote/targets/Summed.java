package org.slabnote.targets;

/**
 * The field summed along one curve.
 *
 * @param curve the curve
 * @param power {@code |sum w a|^2 / sum w^2}, a the field over its clutter
 * @param semblance {@code |sum w a|^2 / (sum w sum w |a|^2)}, 0 to 1
 * @param flatPower power along the flat line through the apex
 * @param twoSided whether both arms take part: each with a fifth of the coherence, where the pass is
 *     long enough to show it; at an end of the pass one arm must do, if the apex itself is inside
 */
record Summed(Curve curve, double power, double semblance, double flatPower, boolean twoSided) {

  static Summed of(EchoField field, StackMap map, Curve curve) {
    double reach = curve.aperture();
    int from = field.firstAt(curve.apex() - reach);
    int to = field.firstAt(curve.apex() + reach);
    double flat = field.sample(curve.apexTime());
    double[] left = new double[5];
    double[] right = new double[5];
    double[] level = new double[5];
    for (int i = from; i < to; i++) {
      double off = field.distance[i] - curve.apex();
      double w = StackMap.weight(Math.abs(off) / reach);
      double at = field.sample(curve.quickTime(field.distance[i]));
      add(field, map, i, at, w, off < 0 ? left : right);
      add(field, map, i, flat, w, level);
    }
    double[] all = new double[5];
    for (int k = 0; k < 5; k++) {
      all[k] = left[k] + right[k];
    }
    boolean both = (left[3] < 0.25 * all[3] || semblance(left) > 0.2 && left[4] > 0.04 * right[4])
        && (right[3] < 0.25 * all[3] || semblance(right) > 0.2 && right[4] > 0.04 * left[4]);
    return new Summed(curve, power(all), semblance(all), power(level), both);
  }

  /** Sums: real, imaginary, w^2, w, w|a|^2. */
  private static void add(
      EchoField field, StackMap map, int trace, double at, double w, double[] sums) {
    int j = (int) Math.round(at);
    if (j < 0 || j >= field.samples) {
      return;
    }
    double turn = 2 * StrictMath.PI * field.frequency * (at - j) * field.interval;
    double c = 1 - turn * turn / 2; // at most a fortieth of a period: right to 1e-4
    double s = turn * (1 - turn * turn / 6);
    double floor = map.floor(j);
    double a = field.re[trace * field.samples + j] / floor;
    double b = field.im[trace * field.samples + j] / floor;
    sums[0] += w * (a * c - b * s);
    sums[1] += w * (a * s + b * c);
    sums[2] += w * w;
    sums[3] += w;
    sums[4] += w * (a * a + b * b);
  }

  private static double power(double[] s) {
    return s[2] == 0 ? 0 : (s[0] * s[0] + s[1] * s[1]) / s[2];
  }

  private static double semblance(double[] s) {
    return s[3] == 0 || s[4] == 0 ? 0 : Math.min(1, (s[0] * s[0] + s[1] * s[1]) / (s[3] * s[4]));
  }

  /** Climbs from a curve of the map to the nearest top of power, in steps that halve three times. */
  static Summed refine(EchoField field, StackMap map, Curve start) {
    Summed best = of(field, map, start);
    double dx = map.placeStep / 2;
    double dt = map.timeStep / 2;
    double dq = 0.04;
    for (int level = 0; level < 3; level++) {
      boolean moved = true;
      for (int round = 0; round < 6 && moved; round++) {
        moved = false;
        for (int k = 0; k < 6; k++) {
          int sign = k % 2 == 0 ? 1 : -1;
          Curve c = best.curve;
          double x = c.apex() + (k / 2 == 0 ? sign * dx : 0);
          double h = k / 2 == 1 ? map.cover(c.apexTime() + sign * dt) : c.cover();
          double q = c.flattening() + (k / 2 == 2 ? sign * dq : 0);
          if (h < 0.005 || q < 0.42 || q > 1.25) {
            continue;
          }
          Summed next =
              of(field, map, new Curve(x, h, q, c.radius(), c.separation(), c.velocity()));
          if (next.power > best.power) {
            best = next;
            moved = true;
          }
        }
      }
      dx /= 2;
      dt /= 2;
      dq /= 2;
    }
    return best;
  }

  /** Amplitude and phase (radians) at the apex: the mean of the traces within 10 mm along the curve. */
  static double[] apex(EchoField field, Curve curve) {
    int middle = field.nearest(curve.apex());
    double a = 0;
    double b = 0;
    int n = 0;
    for (int i = 0; i < field.traces; i++) {
      if (i != middle && Math.abs(field.distance[i] - curve.apex()) > 0.010) {
        continue;
      }
      double at = field.sample(curve.time(field.distance[i]));
      int j = (int) Math.max(0, Math.min(field.samples - 1.0, Math.round(at)));
      double turn = 2 * StrictMath.PI * field.frequency * (at - j) * field.interval;
      double c = StrictMath.cos(turn);
      double s = StrictMath.sin(turn);
      double re = field.re[i * field.samples + j];
      double im = field.im[i * field.samples + j];
      a += re * c - im * s;
      b += re * s + im * c;
      n++;
    }
    return new double[] {Math.sqrt(a * a + b * b) / n, StrictMath.atan2(b, a)};
  }
}
