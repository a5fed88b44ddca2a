package org.slabnote.forward;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.apache.commons.math3.complex.Complex;
import org.slabnote.methods.path.TravelTime;
import org.slabnote.methods.wave.CylinderScattering;
import org.slabnote.methods.wave.CylinderTarget;
import org.slabnote.methods.wave.Polarization;

/**
 * Exact echoes of cylinders, tabulated once and looked up trace by trace.
 *
 * <p>The exact field, less the phase of the specular path, changes slowly with offset, cover and
 * frequency. It is computed on a grid of {@value #OFFSET_STEP} m, {@value #COVER_STEP} m, {@value
 * #SEPARATION_STEP} m and {@value #FREQUENCY_STEP} GHz; offset and frequency are interpolated
 * linearly, cover and separation rounded, and the phase of the true path is put back by the caller.
 */
final class EchoTables {
  private static final double OFFSET_STEP = 0.01;
  private static final double COVER_STEP = 0.002;
  private static final double SEPARATION_STEP = 0.005;
  private static final double FREQUENCY_STEP = 0.1;

  private final double eps;
  private final double[] frequencies;
  private final double[] coarse;
  private final Map<CylinderTarget, CylinderScattering[]> series = new ConcurrentHashMap<>();
  private final Map<CylinderTarget, Pattern> patterns = new ConcurrentHashMap<>();
  private final Map<Key, double[][]> echoes = new ConcurrentHashMap<>();

  private static final Map<Host, EchoTables> SHARED = new LeastRecent();

  private record Host(double eps, double low, double high, int count) {}

  /** Keeps the few newest: a table is tens of megabytes at the most. */
  private static final class LeastRecent extends java.util.LinkedHashMap<Host, EchoTables> {
    private static final long serialVersionUID = 1L;

    @Override
    protected boolean removeEldestEntry(Map.Entry<Host, EchoTables> eldest) {
      return size() > 4;
    }

    @Override
    public synchronized EchoTables computeIfAbsent(
        Host key, java.util.function.Function<? super Host, ? extends EchoTables> make) {
      return super.computeIfAbsent(key, make);
    }
  }

  private record Key(CylinderTarget target, int cover, int separation, int offset) {}

  private EchoTables(double eps, Grid grid) {
    this.eps = eps;
    frequencies = grid.frequencies;
    int n = (int) Math.ceil((frequencies[frequencies.length - 1] - frequencies[0]) / FREQUENCY_STEP)
        + 1;
    coarse = new double[n];
    for (int i = 0; i < n; i++) {
      coarse[i] = frequencies[0] + i * FREQUENCY_STEP;
    }
  }

  /** Returns the tables of a host and a frequency grid; scans of one survey share them. */
  static EchoTables shared(double eps, Grid grid) {
    return SHARED.computeIfAbsent(
        new Host(eps, grid.frequencies[0], grid.frequencies[grid.size() - 1], grid.size()),
        host -> new EchoTables(eps, grid));
  }

  static CylinderTarget target(Cylinder cylinder) {
    double radius = cylinder.diameter().value() / 2;
    if (cylinder.material() instanceof Material.Tube tube) {
      return CylinderTarget.tube(
          radius, tube.bore().value() / 2, tube.wall().value(), tube.filling().value());
    }
    return CylinderTarget.metal(radius);
  }

  /** Returns the echo at an offset of zero or more, its phase stripped of the specular path. */
  Echo echo(Cylinder cylinder, double cover, double offset, double separation) {
    CylinderTarget target = target(cylinder);
    int coverBin = Math.max(1, (int) Math.round(cover / COVER_STEP));
    int separationBin = (int) Math.round(separation / SEPARATION_STEP);
    double at = offset / OFFSET_STEP;
    int bin = (int) Math.floor(at);
    double[][] near = table(new Key(target, coverBin, separationBin, bin));
    double[][] far = table(new Key(target, coverBin, separationBin, bin + 1));
    double path = TravelTime.cylinderLength(offset, cover, target.radius(), separation);
    return new Echo(path, mixed(near, far, at - bin));
  }

  private double[][] mixed(double[][] near, double[][] far, double share) {
    double[][] out = new double[4][frequencies.length];
    for (int k = 0; k < frequencies.length; k++) {
      double at = (frequencies[k] - coarse[0]) / FREQUENCY_STEP;
      int i = Math.min((int) at, coarse.length - 2);
      double f = at - i;
      for (int c = 0; c < 4; c++) {
        double a = near[c][i] + f * (near[c][i + 1] - near[c][i]);
        double b = far[c][i] + f * (far[c][i + 1] - far[c][i]);
        out[c][k] = a + share * (b - a);
      }
    }
    return out;
  }

  private double[][] table(Key key) {
    return echoes.computeIfAbsent(key, this::compute);
  }

  private double[][] compute(Key key) {
    double offset = key.offset() * OFFSET_STEP;
    double cover = key.cover() * COVER_STEP;
    double separation = key.separation() * SEPARATION_STEP;
    double path = TravelTime.cylinderLength(offset, cover, key.target().radius(), separation);
    CylinderScattering[] all = series(key.target());
    double[][] out = new double[4][coarse.length];
    for (int i = 0; i < coarse.length; i++) {
      double[] pair = all[i].pair(separation, cover, offset);
      double phase = all[i].waveNumber() * path;
      double c = StrictMath.cos(phase);
      double s = StrictMath.sin(phase);
      out[0][i] = pair[0] * c - pair[1] * s;
      out[1][i] = pair[0] * s + pair[1] * c;
      out[2][i] = pair[2] * c - pair[3] * s;
      out[3][i] = pair[2] * s + pair[3] * c;
    }
    return out;
  }

  private CylinderScattering[] series(CylinderTarget target) {
    return series.computeIfAbsent(target, t -> {
      CylinderScattering[] all = new CylinderScattering[coarse.length];
      for (int i = 0; i < all.length; i++) {
        all[i] = CylinderScattering.of(t, eps, coarse[i]);
      }
      return all;
    });
  }

  /** Returns forward and backward far-field amplitudes on the frequency grid. */
  Pattern pattern(Cylinder cylinder) {
    return patterns.computeIfAbsent(target(cylinder), t -> {
      double[][] values = new double[8][frequencies.length];
      for (int k = 0; k < frequencies.length; k++) {
        CylinderScattering s = CylinderScattering.of(t, eps, frequencies[k]);
        put(values, 0, k, s.pattern(Polarization.TM, 0));
        put(values, 2, k, s.pattern(Polarization.TE, 0));
        put(values, 4, k, s.backscatter(Polarization.TM));
        put(values, 6, k, s.backscatter(Polarization.TE));
      }
      return new Pattern(values);
    });
  }

  private static void put(double[][] values, int row, int k, Complex value) {
    values[row][k] = value.getReal();
    values[row + 1][k] = value.getImaginary();
  }

  /**
   * An echo on the frequency grid.
   *
   * @param path specular path in the plane square to the axis, metres
   * @param values parallel re, im, square re, im by frequency
   */
  record Echo(double path, double[][] values) {
    double parallelRe(int k) {
      return values[0][k];
    }

    double parallelIm(int k) {
      return values[1][k];
    }

    double squareRe(int k) {
      return values[2][k];
    }

    double squareIm(int k) {
      return values[3][k];
    }
  }

  /**
   * Far-field amplitudes on the frequency grid, referred to the electric field.
   *
   * @param values forward parallel re, im, forward square re, im, back parallel re, im, back square re, im
   */
  record Pattern(double[][] values) {
    double forwardParallelRe(int k) {
      return values[0][k];
    }

    double forwardParallelIm(int k) {
      return values[1][k];
    }

    double forwardSquareRe(int k) {
      return values[2][k];
    }

    double forwardSquareIm(int k) {
      return values[3][k];
    }

    double backParallelRe(int k) {
      return values[4][k];
    }

    double backParallelIm(int k) {
      return values[5][k];
    }

    double backSquareRe(int k) {
      return values[6][k];
    }

    double backSquareIm(int k) {
      return values[7][k];
    }
  }
}
