package org.slabnote.velocity;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Ratio;
import org.slabnote.api.quantity.Units;
import org.slabnote.api.quantity.Velocity;

/**
 * Joins the velocities found on all passes into one, and says when they disagree.
 *
 * <p>Agreement is sought in ln eps: every fit is supported by each other one with {@code exp(-d^2
 * / 2)}, d their difference over their joint uncertainty. The fits within 2.5 of the best supported
 * one are taken, if they hold half of the support or more; the rest are obliquely crossed targets
 * (apparent {@code eps sin^2 b}, below the true one), multiples, crossing arms. Where no half
 * agrees, all are taken and their scatter widens the answer. Of equally supported values the
 * higher permittivity is taken, since oblique crossing only lowers it.
 *
 * <p>Mean weighted by {@code 1 / u^2}, u the fit's own scatter, the drift of its wavelet, and 1 %
 * for the slab's own variation. Uncertainty by source: {@code fits}, the scatter of the mean times
 * the Birge ratio where that exceeds 1; what is common to all fits of one kind (wavelet, diameter)
 * is added up with its sign, not averaged away; surface times by their pass; {@code
 * disagreement}, where more than a quarter of the fits were left out: that share times half the
 * difference to them.
 *
 * <p>Without any fit: the assumed permittivity with 20 % (common practice, no source), said so.
 * Source: Birge 1932, Physical Review 40, 207-227. Check: CombineVelocitiesTest.
 *
 * @param fits velocities pass by pass; empty lists are welcome
 * @param assumedPermittivity taken only where there is no fit at all
 * @since 0.1
 */
@Op(id = "velocity.combine", revision = 1, purpose = Purpose.VELOCITY)
public record CombineVelocities(
    Steps<List<VelocityEstimate>> fits,

    @Param(
        meaning = "relative permittivity to assume where no fit was found; dry indoor slabs 6 to 8",
        from = "1",
        to = "81",
        doubt = "20 %")
    Ratio assumedPermittivity)
    implements Operation<VelocityEstimate> {

  private static final double ASSUMED_DOUBT = 0.20;
  private static final double SLAB_VARIATION = 0.01;
  private static final double AGREES = 2.5;
  private static final double MANY = 0.25;

  @Override
  public VelocityEstimate apply(Work work) {
    List<VelocityEstimate> all = new ArrayList<>();
    for (Step<List<VelocityEstimate>> step : fits.list()) {
      all.addAll(step.get());
      work.checkCancelled();
    }
    work.progress(1);
    if (all.isEmpty()) {
      return assumed(work);
    }
    double[] value = new double[all.size()];
    double[] u = new double[all.size()];
    for (int i = 0; i < value.length; i++) {
      value[i] = all.get(i).velocity().value().value();
      u[i] = own(all.get(i).velocity());
    }
    boolean[] taken = consensus(value, u);
    List<VelocityEstimate> used = new ArrayList<>();
    List<VelocityEstimate> left = new ArrayList<>();
    for (int i = 0; i < value.length; i++) {
      (taken[i] ? used : left).add(all.get(i));
    }
    return joined(used, left, work);
  }

  private VelocityEstimate assumed(Work work) {
    double eps = assumedPermittivity.value();
    double v = Velocity.ofPermittivity(eps).value();
    String value = Units.plain(eps, 4);
    return new VelocityEstimate(
        Measured.of(
            new Velocity(v),
            work.source("assumed permittivity"),
            new Velocity(v * ASSUMED_DOUBT / 2)),
        "assumed permittivity",
        "no clean diffraction was found on any pass: permittivity " + value
            + " is assumed, with a standard uncertainty of 20 % (common practice, no source). "
            + "Calibrate on a core or a known thickness",
        List.of());
  }

  /** Standard uncertainty that a fit does not share with others of its kind. */
  private static double own(Measured<Velocity> velocity) {
    double v = velocity.value().value();
    double sum = SLAB_VARIATION * v * SLAB_VARIATION * v;
    for (Map.Entry<String, Double> e : velocity.budget().entrySet()) {
      if (!label(e.getKey()).equals("diameter")) {
        sum += e.getValue() * e.getValue();
      }
    }
    return Math.sqrt(sum);
  }

  private static String label(String source) {
    return source.substring(source.lastIndexOf('#') + 1);
  }

  private static boolean[] consensus(double[] v, double[] u) {
    int n = v.length;
    int best = 0;
    double most = -1;
    for (int i = 0; i < n; i++) {
      double support = 0;
      for (int j = 0; j < n; j++) {
        double d = distance(v, u, i, j);
        support += StrictMath.exp(-d * d / 2);
      }
      boolean tie = Math.abs(support - most) < 1e-3;
      if ((!tie && support > most) || (tie && v[i] < v[best])) {
        best = i;
        most = support;
      }
    }
    boolean[] taken = new boolean[n];
    int count = 0;
    for (int i = 0; i < n; i++) {
      taken[i] = distance(v, u, i, best) <= AGREES;
      count += taken[i] ? 1 : 0;
    }
    if (2 * count <= n && n > 1) {
      java.util.Arrays.fill(taken, true);
    }
    return taken;
  }

  private static double distance(double[] v, double[] u, int i, int j) {
    double ri = 2 * u[i] / v[i];
    double rj = 2 * u[j] / v[j];
    return 2 * Math.abs(StrictMath.log(v[i] / v[j])) / Math.sqrt(ri * ri + rj * rj);
  }

  private static VelocityEstimate joined(
      List<VelocityEstimate> used, List<VelocityEstimate> left, Work work) {
    int n = used.size();
    double[] weight = new double[n];
    double total = 0;
    for (int i = 0; i < n; i++) {
      double u = own(used.get(i).velocity());
      weight[i] = 1 / (u * u);
      total += weight[i];
    }
    double mean = 0;
    for (int i = 0; i < n; i++) {
      weight[i] /= total;
      mean += weight[i] * used.get(i).velocity().value().value();
    }
    double chi = 0;
    for (int i = 0; i < n; i++) {
      double z = (used.get(i).velocity().value().value() - mean);
      chi += z * z * weight[i] * total;
    }
    double birge = n > 1 ? Math.sqrt(chi / (n - 1)) : 0;
    double disagreement = disagreement(left, mean, n);
    Measured.Builder<Velocity> budget = Measured.about(new Velocity(mean));
    shared(used, weight, birge, budget, work);
    if (disagreement > 0) {
      budget.from(work.source("disagreement"), disagreement);
    }
    if (n == 1 && left.isEmpty()) {
      VelocityEstimate only = used.get(0);
      return new VelocityEstimate(
          budget.build(),
          "single fit",
          "one fit only, nothing to compare it with: " + only.evidence(),
          used);
    }
    List<VelocityEstimate> members = new ArrayList<>(used);
    members.addAll(left);
    return new VelocityEstimate(
        budget.build(), "weighted mean", evidence(used, left, birge, disagreement > 0), members);
  }

  private static void shared(
      List<VelocityEstimate> used,
      double[] weight,
      double birge,
      Measured.Builder<Velocity> budget,
      Work work) {
    double square = 0;
    TreeMap<String, Double> common = new TreeMap<>();
    for (int i = 0; i < weight.length; i++) {
      Measured<Velocity> v = used.get(i).velocity();
      double variation = SLAB_VARIATION * v.value().value() * weight[i];
      square += variation * variation;
      for (Map.Entry<String, Double> e : v.budget().entrySet()) {
        String label = label(e.getKey());
        double part = weight[i] * e.getValue();
        if (label.startsWith("fit ") || label.equals("fit")) {
          square += part * part;
        } else if (label.equals("wavelet") || label.equals("diameter")) {
          common.merge(label, part, Double::sum);
        } else {
          budget.from(e.getKey(), part);
        }
      }
    }
    budget.from(work.source("fits"), Math.sqrt(square) * Math.max(1, birge));
    common.forEach((label, part) -> budget.from(work.source(label), part));
  }

  private static double disagreement(List<VelocityEstimate> left, double mean, int used) {
    double share = left.size() / (double) (left.size() + used);
    if (share <= MANY) {
      return 0;
    }
    double sum = 0;
    for (VelocityEstimate v : left) {
      sum += Math.abs(v.velocity().value().value() - mean);
    }
    return share * sum / left.size() / 2;
  }

  private static String evidence(
      List<VelocityEstimate> used, List<VelocityEstimate> left, double birge, boolean disagree) {
    StringBuilder text = new StringBuilder();
    text.append(used.size()).append(used.size() == 1 ? " fit" : " fits");
    text.append(", permittivity ").append(range(used));
    if (used.size() > 1) {
      text.append(", Birge ratio ").append(Units.fixed(birge, 2));
      text.append(birge > 1.5 ? ": they disagree beyond their uncertainty, which is widened" : "");
    }
    if (!left.isEmpty()) {
      text.append("; ").append(left.size()).append(" left out, permittivity ").append(range(left));
      text.append(
          ": perhaps crossed obliquely (which lowers it), multiples, or arms that cross another's");
    }
    if (disagree) {
      text.append("; so many were left out that the uncertainty is widened");
    }
    return text.toString();
  }

  private static String range(List<VelocityEstimate> list) {
    double low = Double.POSITIVE_INFINITY;
    double high = 0;
    for (VelocityEstimate v : list) {
      double eps = v.velocity().value().permittivity();
      low = Math.min(low, eps);
      high = Math.max(high, eps);
    }
    return list.size() == 1
        ? Units.fixed(low, 2)
        : Units.fixed(low, 2) + " to " + Units.fixed(high, 2);
  }
}
