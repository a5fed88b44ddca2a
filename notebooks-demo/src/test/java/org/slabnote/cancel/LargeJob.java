package org.slabnote.cancel;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mPerNs;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.ratio;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.BiFunction;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.slabnote.api.Antenna;
import org.slabnote.api.Balance;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Cut;
import org.slabnote.api.Events;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Pick;
import org.slabnote.api.Picks;
import org.slabnote.api.Point;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.Targets;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.api.Visibility;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Velocity;
import org.slabnote.filters.AcquisitionChecks;
import org.slabnote.filters.AtSurface;
import org.slabnote.filters.BackgroundRemoval;
import org.slabnote.filters.BandPass;
import org.slabnote.filters.Dewow;
import org.slabnote.filters.Envelope;
import org.slabnote.filters.Gain;
import org.slabnote.filters.MedianDewow;
import org.slabnote.filters.SurfaceTime;
import org.slabnote.forward.Concrete;
import org.slabnote.forward.Instrument;
import org.slabnote.forward.Node;
import org.slabnote.forward.RayScan;
import org.slabnote.forward.SlabModel;
import org.slabnote.imaging.DiffractionStack;
import org.slabnote.polarization.Classify;
import org.slabnote.polarization.FindBalance;
import org.slabnote.polarization.PairRatios;
import org.slabnote.tables.ClearanceTable;
import org.slabnote.tables.CoverStatistics;
import org.slabnote.tables.EventTable;
import org.slabnote.tables.TargetSchedule;
import org.slabnote.tables.VelocityTable;
import org.slabnote.tables.VisibilityTable;
import org.slabnote.targets.Clearance;
import org.slabnote.targets.DetectDiffractions;
import org.slabnote.targets.DetectPlanes;
import org.slabnote.targets.EventLedger;
import org.slabnote.targets.LinkEvents;
import org.slabnote.targets.PickTarget;
import org.slabnote.targets.Sight;
import org.slabnote.velocity.CombineVelocities;
import org.slabnote.velocity.FitDiffractions;
import org.slabnote.velocity.HyperbolaFit;
import org.slabnote.velocity.KnownDepth;
import org.slabnote.velocity.StatedPermittivity;

/**
 * A large invented survey, read from scan to clearance with every bundled operation: passes of 2000
 * traces of 512 samples over ten metres of slab with two mats.
 */
final class LargeJob {
  static final int TRACES = 2000;
  static final int SAMPLES = 512;
  private static final double LENGTH = 10;
  private static final int PASSES = 3;

  /** How an operation went. */
  record Went(Class<?> operation, double wholeMillis, double longestMillis, int looks) {}

  private final Map<Class<?>, Went> went = new LinkedHashMap<>();

  /** Applies an operation and notes how it went; of several applications the worst is kept. */
  private <R> R run(Operation<R> operation) {
    return run(operation.getClass(), operation::apply);
  }

  private <V> V run(Filter<V> filter, V input) {
    return run(filter.getClass(), work -> filter.apply(input, work));
  }

  private <R> R run(Class<?> type, Function<Work, R> apply) {
    Looks looks = new Looks();
    R result = apply.apply(looks);
    looks.end();
    Went now = new Went(type, looks.wholeMillis(), looks.longestMillis(), looks.count());
    went.merge(type, now, (a, b) -> a.longestMillis() >= b.longestMillis() ? a : b);
    return result;
  }

  private static SlabModel slab() {
    SlabModel.Builder slab = SlabModel.of(
        new Concrete(ratio(7.4), ratio(0.012), ratio(0.03), mm(200)),
        new Instrument(MHz(2000), ns(0.8), ns(0.01), dB(1.2), ns(0.02), dB(6), dB(-46), dB(-48)));
    for (int i = 0; i < 33; i++) {
      double x = 0.15 + 0.3 * i;
      slab.metal("top-" + i, mm(10), Node.of(x, -1, 0.046), Node.of(x, 2, 0.046));
      slab.metal("low-" + i, mm(12), Node.of(x + 0.15, -1, 0.147), Node.of(x + 0.15, 2, 0.147));
    }
    return slab.build();
  }

  private static SurveyRow row(int pass, double dipole) {
    double y = 0.1 * (pass + 1);
    String name = "E0" + (pass + 1);
    String channel = dipole == 90 ? "across" : "along";
    return new SurveyRow(
        name,
        channel,
        name + channel + ".sgy",
        new Antenna(deg(dipole), deg(dipole), mm(60), MHz(2000)),
        Point.of(0, y),
        Point.of(LENGTH, y),
        ns(0.02),
        Optional.empty(),
        Optional.empty(),
        new TreeMap<>());
  }

  private Steps<Scan> scans(double dipole) {
    TreeMap<String, Scan> scans = new TreeMap<>();
    for (int i = 0; i < PASSES; i++) {
      SurveyRow row = row(i, dipole);
      scans.put(row.pass(), run(new RayScan(slab(), row, TRACES, SAMPLES, 7)));
    }
    return Steps.given(scans);
  }

  private static <A, B> Steps<B> each(Steps<A> steps, BiFunction<String, Step<A>, B> body) {
    TreeMap<String, B> all = new TreeMap<>();
    steps.names().forEach(name -> all.put(name, body.apply(name, steps.of(name))));
    return Steps.given(all);
  }

  /** Reads the survey, and tells how each operation went. */
  Map<Class<?>, Went> read() {
    Steps<Scan> across = scans(90);
    Steps<Scan> along = scans(0);
    run(new AcquisitionChecks(across, along));
    Steps<Scan> acrossBase = each(across, (pass, scan) -> base(scan));
    Steps<Scan> alongBase = each(
        along,
        (pass, scan) -> run(
            new Dewow(ns(0.75)),
            run(new AtSurface(scan, Step.given(run(new SurfaceTime(across.of(pass))))))));
    Steps<Scan> acrossEcho = each(acrossBase, (pass, scan) -> echo(scan.get()));
    Steps<Scan> alongEcho = each(alongBase, (pass, scan) -> echo(scan.get()));
    Step<Scan> first = acrossEcho.of("E01");
    otherFilters(acrossBase.of("E01").get());

    Steps<List<VelocityEstimate>> fits =
        each(acrossEcho, (pass, scan) -> run(new FitDiffractions(scan, mm(12), mm(400))));
    run(new CombineVelocities(fits, ratio(7)));
    run(new StatedPermittivity(ratio(7.4), ratio(1), "invented"));
    run(new KnownDepth(
        acrossBase.of("E01"), new Pick("E01", m(5.07), ns(4.5)), mm(200), mm(5), "invented"));
    run(new HyperbolaFit(first, hyperbola(), mm(10)));
    Step<VelocityEstimate> velocity = Step.given(new VelocityEstimate(
        Measured.of(Velocity.ofPermittivity(7.4), "invented#v", mPerNs(0.002)),
        "given",
        "",
        List.of()));
    run(new VelocityTable(velocity));
    run(new DiffractionStack(first, velocity, mm(2), mm(240)));

    Steps<Events> seenAcross =
        each(acrossEcho, (pass, scan) -> run(new DetectDiffractions(scan, velocity, mm(12))));
    Steps<Events> seenAlong =
        each(alongEcho, (pass, scan) -> run(new DetectDiffractions(scan, velocity, mm(12))));
    Steps<Events> planes = each(acrossBase, (pass, scan) -> run(new DetectPlanes(scan, velocity)));
    run(new PickTarget(
        first, new Picks("mine", List.of(new Pick("E01", m(0.15), ns(1.7)))), velocity, mm(12)));
    Step<Targets> linked =
        Step.given(run(new LinkEvents(seenAcross, seenAlong, planes, velocity, mm(75), mm(12))));
    Step<Optional<Balance>> balance =
        Step.given(run(new FindBalance(acrossBase, alongBase, velocity)));
    Step<Targets> rated =
        Step.given(run(new PairRatios(acrossEcho, alongEcho, linked, velocity, balance)));
    Step<Targets> targets =
        Step.given(run(new Classify(rated, velocity, first.get().antenna())));
    Step<Events> ledger =
        Step.given(run(new EventLedger(seenAcross, seenAlong, targets, velocity)));
    Step<Visibility> seen = Step.given(run(new Sight(acrossEcho, targets, velocity)));
    tables(targets, ledger, seen);
    return went;
  }

  private Scan base(Step<Scan> scan) {
    return run(
        new Dewow(ns(0.75)), run(new AtSurface(scan, Step.given(run(new SurfaceTime(scan))))));
  }

  private Scan echo(Scan base) {
    return run(new BandPass(MHz(500), MHz(5000)), run(new BackgroundRemoval(m(0)), base));
  }

  private void otherFilters(Scan base) {
    run(new BackgroundRemoval(mm(500)), base);
    run(new MedianDewow(ns(0.75)), base);
    run(new Envelope(), base);
    run(new Gain(Gain.Spreading.LINE, dB(2), dB(60)), base);
  }

  private static Picks hyperbola() {
    List<Pick> picks = new ArrayList<>();
    for (int i = -100; i <= 100; i++) {
      double x = 0.002 * i;
      double path = 2 * StrictMath.hypot(x, 0.051);
      picks.add(new Pick("E01", m(5.25 + x), ns(0.8 + path / 0.11)));
    }
    return new Picks("by-eye", picks);
  }

  private void tables(Step<Targets> targets, Step<Events> ledger, Step<Visibility> seen) {
    run(new TargetSchedule(targets));
    run(new CoverStatistics(targets, deg(90), deg(10), mm(30)));
    run(new EventTable(ledger));
    run(new VisibilityTable(seen));
    TreeMap<String, Conclusion> clearances = new TreeMap<>();
    IntStream.range(0, 3).forEach(i -> {
      Cut cut = new Cut(
          "C" + i,
          Cut.Kind.CORE,
          Point.of(2.0 + i, 0.3),
          Point.of(2.0 + i, 0.3),
          mm(50),
          mm(150),
          mm(20),
          new TreeMap<>());
      clearances.put(cut.name(), run(new Clearance(targets, cut, seen, ledger)));
    });
    run(new ClearanceTable(Steps.given(clearances)));
  }

  /** Returns what went, for a look at the figures. */
  static String table(Map<Class<?>, Went> went) {
    StringBuilder table = new StringBuilder();
    new HashMap<>(went)
        .values().stream()
            .sorted((a, b) -> Double.compare(b.longestMillis(), a.longestMillis()))
            .forEach(one -> table.append(String.format(
                java.util.Locale.ROOT,
                "%-20s %9.1f ms in all, %7.1f ms at most without a look, %6d looks%n",
                one.operation().getSimpleName(),
                one.wholeMillis(),
                one.longestMillis(),
                one.looks())));
    return table.toString();
  }
}
