package org.slabnote.speed;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.m;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.ratio;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Filter;
import org.slabnote.api.Notebook;
import org.slabnote.api.Orientation;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.VelocityEstimate;
import org.slabnote.filters.BackgroundRemoval;
import org.slabnote.filters.BandPass;
import org.slabnote.filters.Dewow;
import org.slabnote.imaging.DiffractionStack;
import org.slabnote.velocity.StatedPermittivity;

/** What the measured cells say: the same statements that the bare measurement applies by hand. */
final class Cells {
  private Cells() {}

  /** Kinds of chain. */
  enum Chain {
    /** Ten running means. */
    DEWOW,
    /** Ten band-passes. */
    BAND_PASS,
    /** Ten removals of the background along the pass. */
    BACKGROUND
  }

  static List<Filter<Scan>> filters(Chain chain) {
    List<Filter<Scan>> filters = new ArrayList<>();
    for (int i = 0; i < 10; i++) {
      filters.add(
          switch (chain) {
            case DEWOW -> new Dewow(ns(1 + 0.01 * i));
            case BAND_PASS -> new BandPass(MHz(300 + i), MHz(3500));
            case BACKGROUND -> new BackgroundRemoval(m(1 + 0.1 * i));
          });
    }
    return filters;
  }

  static DiffractionStack stack(Step<Scan> scan, Step<VelocityEstimate> velocity) {
    return new DiffractionStack(scan, velocity, mm(5), mm(500));
  }

  static StatedPermittivity permittivity() {
    return new StatedPermittivity(ratio(7), ratio(0.5), "invented");
  }

  private static void show(Chain chain) {
    Step<Scan> step = Notebook.scan("E01", Orientation.ACROSS);
    for (Filter<Scan> filter : filters(chain)) {
      step = step.then(filter);
    }
    Notebook.show(step);
  }

  /** The scan alone. */
  static final class Nothing {
    private Nothing() {}

    static void cell() {
      Notebook.show(Notebook.scan("E01", Orientation.ACROSS));
    }
  }

  /** A chain. */
  static final class OfDewow {
    private OfDewow() {}

    static void cell() {
      show(Chain.DEWOW);
    }
  }

  /** A chain. */
  static final class OfBandPass {
    private OfBandPass() {}

    static void cell() {
      show(Chain.BAND_PASS);
    }
  }

  /** A chain. */
  static final class OfBackground {
    private OfBackground() {}

    static void cell() {
      show(Chain.BACKGROUND);
    }
  }
}
