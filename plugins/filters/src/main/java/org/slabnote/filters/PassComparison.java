package org.slabnote.filters;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.slabnote.api.Orientation;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Units;
import org.slabnote.methods.fit.RobustFigures;

/** Compares the passes of one orientation with one another. */
final class PassComparison {
  /** By how much the correlation of the reversed pass must win, and what it must reach. */
  private static final double WINS_BY = 0.15;

  private static final double AT_LEAST = 0.5;

  /** Cosine of the greatest angle between parallel passes, 10 degrees. */
  private static final double PARALLEL = 0.985;

  private final List<Scan> scans;
  private final List<ScanHealth> health;
  private final AcquisitionLimits limits;

  PassComparison(List<Scan> scans, List<ScanHealth> health, AcquisitionLimits limits) {
    this.scans = scans;
    this.health = health;
    this.limits = limits;
  }

  /** Time and spectrum of the direct wave against those of the channel, where it has three passes. */
  void directWaves(CheckRows rows) {
    for (int i = 0; i < scans.size(); i++) {
      Scan scan = scans.get(i);
      List<ScanHealth> peers = new ArrayList<>();
      for (int k = 0; k < scans.size(); k++) {
        Scan other = scans.get(k);
        if (other.channel().equals(scan.channel())
            && other.antenna().equals(scan.antenna())
            && health.get(k).direct().isPresent()) {
          peers.add(health.get(k));
        }
      }
      if (peers.size() < 3 || health.get(i).direct().isEmpty()) {
        continue;
      }
      double usual = RobustFigures.median(
          peers.stream().mapToDouble(h -> h.direct().orElseThrow().time()).toArray());
      double off = Math.abs(health.get(i).direct().orElseThrow().time() - usual);
      rows.add(
          scan,
          "time zero between passes",
          off,
          "ns",
          limits.between().value(),
          off > limits.between().value(),
          "from the median of " + peers.size() + " passes");
      if (scan.orientation() != Orientation.ACROSS) {
        continue; // a bar along the pass answers within the direct wave of the along antenna
      }
      double centre =
          RobustFigures.median(peers.stream().mapToDouble(ScanHealth::centroid).toArray());
      double apart = Math.abs(health.get(i).centroid() / centre - 1);
      rows.add(
          scan,
          "spectrum between passes",
          apart,
          "1",
          limits.spectrum().value(),
          !(apart <= limits.spectrum().value()),
          "a wrong sample interval shows here; from the median of " + peers.size() + " passes");
    }
  }

  /**
   * Correlation with the two nearest parallel passes, as stated and turned round: a reversed pass
   * differs from both, its neighbours from one only. The one that speaks less for a reversal counts.
   */
  void directions(CheckRows rows, Work work) {
    float[][][] images = new float[scans.size()][][];
    work.forEach(images.length, i -> images[i] = image(scans.get(i), health.get(i)));
    for (int i = 0; i < scans.size(); i++) {
      double least = Double.POSITIVE_INFINITY;
      double[] shown = {0, 0};
      int against = -1;
      for (int other : nearestParallel(i, images)) {
        work.checkCancelled();
        double[] r = correlations(i, images[i], other, images[other]);
        if (r[1] - r[0] < least) {
          least = r[1] - r[0];
          shown = r;
          against = other;
        }
      }
      if (against >= 0) {
        rows.add(
            scans.get(i),
            "direction against neighbours",
            least,
            "1",
            WINS_BY,
            least > WINS_BY && shown[1] > AT_LEAST,
            "correlation with " + scans.get(against).pass() + ": " + Units.fixed(shown[0], 2)
                + " as stated, " + Units.fixed(shown[1], 2) + " turned round");
      }
    }
  }

  /** Returns the two nearest parallel passes that can be compared; fewer where there are fewer. */
  private List<Integer> nearestParallel(int i, float[][][] images) {
    List<Integer> near = new ArrayList<>();
    for (int k = 0; k < scans.size(); k++) {
      if (k != i
          && images[i].length > 0
          && images[k].length > 0
          && comparable(scans.get(i), scans.get(k))) {
        near.add(k);
      }
    }
    near.sort(Comparator.comparingDouble(k -> distance(scans.get(i), scans.get(k))));
    return near.subList(0, Math.min(2, near.size()));
  }

  private static boolean comparable(Scan a, Scan b) {
    double[] da = direction(a);
    double[] db = direction(b);
    return a.channel().equals(b.channel())
        && a.axis().equals(b.axis())
        && a.traces() > 2
        && b.traces() > 2
        && Math.abs(da[0] * db[0] + da[1] * db[1]) >= PARALLEL;
  }

  private static double[] direction(Scan s) {
    double angle = s.track().direction().value() * Math.PI / 180;
    return new double[] {StrictMath.cos(angle), StrictMath.sin(angle)};
  }

  private static double[] middle(Scan s) {
    var first = s.track().first();
    var last = s.track().last();
    return new double[] {
      (first.x().value() + last.x().value()) / 2, (first.y().value() + last.y().value()) / 2
    };
  }

  private static double distance(Scan a, Scan b) {
    double[] ma = middle(a);
    double[] mb = middle(b);
    return StrictMath.hypot(ma[0] - mb[0], ma[1] - mb[1]);
  }

  /**
   * Mean magnitude in blocks of half a period, freed of background, from two periods after the direct
   * wave on.
   */
  private static float[][] image(Scan scan, ScanHealth health) {
    if (health.direct().isEmpty() || scan.traces() < 3) {
      return new float[0][];
    }
    DirectWave direct = health.direct().get();
    int from = Math.max(0, (int) Math.ceil(direct.index() + 2 * direct.period()));
    int block = Math.max(1, (int) StrictMath.rint(direct.period() / 2));
    int blocks = (scan.axis().count() - from) / block;
    if (blocks < 1) {
      return new float[0][];
    }
    Scan clean = new BackgroundRemoval(new Length(0)).apply(scan, Work.serial("acquisition"));
    float[][] image = new float[scan.traces()][blocks];
    for (int i = 0; i < image.length; i++) {
      for (int k = 0; k < blocks; k++) {
        double sum = 0;
        for (int j = from + k * block; j < from + (k + 1) * block; j++) {
          sum += Math.abs(clean.sample(i, j));
        }
        image[i][k] = (float) (sum / block);
      }
    }
    return image;
  }

  /** Correlation over the stretch that both passes share: as stated, and with one turned round. */
  private double[] correlations(int i, float[][] mine, int k, float[][] theirs) {
    double[] axis = direction(scans.get(i));
    double[] here = project(scans.get(i), axis);
    double[] there = project(scans.get(k), axis);
    double low = Math.max(least(here), least(there));
    double high = Math.min(-least(negative(here)), -least(negative(there)));
    if (!(high > low)) {
      return new double[] {Double.NaN, Double.NaN};
    }
    List<float[]> ours = new ArrayList<>();
    List<float[]> straight = new ArrayList<>();
    List<float[]> turned = new ArrayList<>();
    for (int a = 0; a < here.length; a++) {
      if (here[a] >= low - 1e-9 && here[a] <= high + 1e-9) {
        ours.add(mine[a]);
        straight.add(theirs[nearest(there, here[a])]);
        turned.add(theirs[nearest(there, low + high - here[a])]);
      }
    }
    return new double[] {correlation(ours, straight), correlation(ours, turned)};
  }

  private static double[] project(Scan scan, double[] axis) {
    double[] out = new double[scan.traces()];
    for (int i = 0; i < out.length; i++) {
      out[i] = scan.track().x().get(i) * axis[0] + scan.track().y().get(i) * axis[1];
    }
    return out;
  }

  private static double least(double[] values) {
    return RobustFigures.quantile(values, 0);
  }

  private static double[] negative(double[] values) {
    double[] out = new double[values.length];
    for (int i = 0; i < out.length; i++) {
      out[i] = -values[i];
    }
    return out;
  }

  private static int nearest(double[] places, double place) {
    int best = 0;
    for (int i = 1; i < places.length; i++) {
      if (Math.abs(places[i] - place) < Math.abs(places[best] - place)) {
        best = i;
      }
    }
    return best;
  }

  /** Pearson's coefficient over all samples; NaN where one side does not vary. */
  private static double correlation(List<float[]> a, List<float[]> b) {
    double n = 0;
    double sa = 0;
    double sb = 0;
    double saa = 0;
    double sbb = 0;
    double sab = 0;
    for (int i = 0; i < a.size(); i++) {
      // Both begin two periods after their own direct wave, so that they may end differently.
      int count = Math.min(a.get(i).length, b.get(i).length);
      for (int j = 0; j < count; j++) {
        double x = a.get(i)[j];
        double y = b.get(i)[j];
        n++;
        sa += x;
        sb += y;
        saa += x * x;
        sbb += y * y;
        sab += x * y;
      }
    }
    double va = saa - sa * sa / n;
    double vb = sbb - sb * sb / n;
    return va <= 0 || vb <= 0 ? Double.NaN : (sab - sa * sb / n) / Math.sqrt(va * vb);
  }
}
