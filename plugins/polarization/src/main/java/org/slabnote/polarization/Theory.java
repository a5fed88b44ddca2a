package org.slabnote.polarization;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Work;
import org.slabnote.methods.wave.CylinderEcho;
import org.slabnote.methods.wave.CylinderTarget;
import org.slabnote.methods.wave.PairTheory;

/**
 * What the cylinder series lets the antenna pair show of bars and tubes, by cover.
 *
 * <p>Targets and their shares within their class are declared here: metal 6 to 75 mm, ordinary bars
 * most; tubes of plastic (permittivity 3) 16 to 60 mm filled with air, 16 and 27 mm with water, and
 * solid plastic. Frequencies: 0.85 and 1.05 of the antenna's, since concrete lowers the spectrum.
 * Covers are taken on a grid of 5 % and interpolated.
 */
final class Theory {
  private static final double[] METAL = {6, 8, 9.5, 12.7, 16, 20, 25.4, 40, 75};
  private static final double[] METAL_SHARE = {2, 2, 3, 4, 4, 2, 2, 1, 1};
  // outside and inside diameter, filling
  private static final double[][] TUBES = {
    {16, 13, 1},
    {21.3, 15.8, 1},
    {26.7, 20.9, 1},
    {33.4, 26.6, 1},
    {60.3, 52.5, 1},
    {16, 13, 81},
    {26.7, 20.9, 81},
    {20, 0, 3}
  };
  private static final double[] TUBE_SHARE = {3, 3, 3, 2, 1, 2, 1, 1};
  private static final double PLASTIC = 3;
  private static final double[] FREQUENCIES = {0.85, 1.05};
  private static final double GRID = StrictMath.log(1.05);
  private static final double ROOM = 20;

  private final double separation;
  private final List<Body> bodies = new ArrayList<>();

  /**
   * One target at one frequency.
   *
   * @param share its share within the class, all adding to 1
   */
  private record Body(TargetClass kind, double share, CylinderEcho echo, double frequency) {}

  /**
   * What one body would show at one cover.
   *
   * @param ratio pair ratio, dB
   * @param phase along less across, degrees
   */
  record Shown(TargetClass kind, double share, double ratio, double phase) {}

  Theory(double eps, double separation, double frequency, Work work) {
    this.separation = separation;
    for (double factor : FREQUENCIES) {
      double peak = factor * frequency;
      double[] f = new double[(int) Math.ceil(3 * peak * ROOM)];
      for (int i = 0; i < f.length; i++) {
        f[i] = (i + 1) / ROOM;
      }
      double total = sum(METAL_SHARE) * FREQUENCIES.length;
      for (int i = 0; i < METAL.length; i++) {
        work.checkCancelled();
        CylinderTarget target = CylinderTarget.metal(METAL[i] / 2000);
        bodies.add(new Body(
            TargetClass.METAL, METAL_SHARE[i] / total, CylinderEcho.of(target, eps, f), peak));
      }
      total = sum(TUBE_SHARE) * FREQUENCIES.length;
      for (int i = 0; i < TUBES.length; i++) {
        work.checkCancelled();
        double outer = TUBES[i][0] / 2000;
        CylinderTarget target = TUBES[i][1] == 0
            ? CylinderTarget.dielectric(outer, TUBES[i][2])
            : CylinderTarget.tube(outer, TUBES[i][1] / 2000, PLASTIC, TUBES[i][2]);
        bodies.add(new Body(
            TargetClass.NON_METAL, TUBE_SHARE[i] / total, CylinderEcho.of(target, eps, f), peak));
      }
    }
  }

  private static double sum(double[] values) {
    double sum = 0;
    for (double v : values) {
      sum += v;
    }
    return sum;
  }

  /** Place of a cover on the grid, fractional. */
  static double place(double cover) {
    return StrictMath.log(cover) / GRID;
  }

  /** What every body shows at a place of the grid. */
  List<Shown> at(int place, Work work) {
    double cover = StrictMath.exp(place * GRID);
    List<Shown> list = new ArrayList<>();
    for (Body b : bodies) {
      work.checkCancelled();
      PairTheory t =
          PairTheory.of(b.echo().at(separation, cover, 0), PairTheory.ricker(b.frequency()));
      list.add(new Shown(b.kind(), b.share(), t.ratio(), t.phase() * 180 / Math.PI));
    }
    return list;
  }

  /** Between two places of the grid. */
  static List<Shown> between(List<Shown> low, List<Shown> high, double share) {
    List<Shown> list = new ArrayList<>();
    for (int i = 0; i < low.size(); i++) {
      Shown a = low.get(i);
      Shown b = high.get(i);
      double turn = Math.IEEEremainder(b.phase() - a.phase(), 360);
      list.add(new Shown(
          a.kind(),
          a.share(),
          a.ratio() + share * (b.ratio() - a.ratio()),
          a.phase() + share * turn));
    }
    return list;
  }
}
