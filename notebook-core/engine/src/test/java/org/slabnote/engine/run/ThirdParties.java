package org.slabnote.engine.run;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.slabnote.engine.plugin.PluginPins;
import org.slabnote.engine.problem.BadInput;

/**
 * Two plugins built from source, each with a version of its own of one small library: package {@code
 * lib}, class {@code Trend}, whose method has another signature in each.
 */
final class ThirdParties {
  private ThirdParties() {}

  /** {@code tilt.remove}: subtracts a line through the ends of each trace, by library version 1. */
  static JarMaker tilt() {
    return new JarMaker()
        .coordinates("com.example.tilt", "tilt-filters", "1.2.0")
        .manifest("Slabnote-Plugin-Api", "0.1")
        .plugin("com.example.tilt.TiltPlugin", "tilt", "RemoveTilt.class", "")
        .source("lib.Trend", """
            package lib;
            public final class Trend {
              public static double slope(float[] y) {
                return y.length < 2 ? 0 : (y[y.length - 1] - y[0]) / (double) (y.length - 1);
              }
            }
            """)
        .source("com.example.tilt.RemoveTilt", """
            package com.example.tilt;
            import org.slabnote.api.*;
            import org.slabnote.api.quantity.Ratio;
            @Op(id = "tilt.remove", revision = 1, purpose = Purpose.FILTER)
            public record RemoveTilt(
                @Param(meaning = "share of the line that is taken away", from = "0", to = "1")
                Ratio share) implements Filter<Scan> {
              public Amplitudes amplitudes() { return Amplitudes.SAME_LINEAR; }
              public Scan apply(Scan input, Work work) {
                return input.eachTrace(work, trace -> {
                  double slope = lib.Trend.slope(trace) * share.value();
                  double first = trace[0];
                  for (int i = 0; i < trace.length; i++) {
                    trace[i] -= (float) (slope * i);
                  }
                  return trace;
                });
              }
            }
            """);
  }

  /** {@code rise.of}: the mean rise of a scan's traces, by library version 2, as a table. */
  static JarMaker rise() {
    return new JarMaker()
        .coordinates("com.example.rise", "rise-tables", "0.9.1")
        .manifest("Slabnote-Plugin-Api", "0.1")
        .plugin("com.example.rise.RisePlugin", "rise", "Rise.class", "")
        .source("lib.Trend", """
            package lib;
            public final class Trend {
              public static float slope(java.util.List<Float> y, int from) {
                return (y.get(y.size() - 1) - y.get(from)) / (y.size() - 1 - from);
              }
            }
            """)
        .source("com.example.rise.Rise", """
            package com.example.rise;
            import java.util.ArrayList;
            import java.util.List;
            import org.slabnote.api.*;
            @Op(id = "rise.of", revision = 1, purpose = Purpose.TABLE)
            public record Rise(Step<Scan> scan) implements Operation<Table> {
              public Table apply(Work work) {
                Scan in = scan.get();
                double[] rises = new double[in.traces()];
                for (int i = 0; i < rises.length; i++) {
                  List<Float> values = new ArrayList<>();
                  for (float v : in.trace(i)) {
                    values.add(v);
                  }
                  rises[i] = lib.Trend.slope(values, 0);
                }
                return new Table(List.of(new Table.Numbers("rise_1", Doubles.of(rises), 3)));
              }
            }
            """);
  }

  /** A plugin {@code odd} with one operation from a scan to a table, whose body is given. */
  static JarMaker odd(String body, String more) {
    return new JarMaker()
        .coordinates("com.example.odd", "odd", "3.0")
        .plugin("com.example.odd.OddPlugin", "odd", "Odd.class", "")
        .source("com.example.odd.Odd", """
            package com.example.odd;
            import java.util.*;
            import org.slabnote.api.*;
            @Op(id = "odd.one", revision = 1, purpose = Purpose.TABLE)
            public record Odd(Step<Scan> scan) implements Operation<Table> {
              %s
              static Table table(double value) {
                return new Table(List.of(new Table.Numbers("x_1", Doubles.of(value), 6)));
              }
              public Table apply(Work work) {
                %s
              }
            }
            """.formatted(more, body));
  }

  /** Pins a jar as the command does. */
  static void pin(Path job, Path cache, Path jar, Path... libraries) throws BadInput {
    PluginPins pins = JobRunner.of(job, cache, 2).plugins();
    pins.add(pins.look(jar, List.of(libraries)));
  }

  static void pin(Path job, Path cache, Path folder, JarMaker jar, String name)
      throws BadInput, IOException {
    pin(job, cache, jar.build(folder.resolve("built").resolve(name)));
  }
}
