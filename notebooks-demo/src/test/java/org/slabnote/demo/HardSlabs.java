package org.slabnote.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.LongStream;

/**
 * Slabs drawn by chance, each read by its starter notebook, and the score.
 *
 * <p>Started as a program it prints each slab and its score: {@code HardSlabs FOLDER FROM TO}.
 */
final class HardSlabs {
  /** Where only an assumed velocity is to be had, a depth may be off by what was stated, not more. */
  private static final Score.Tolerance NEAR = new Score.Tolerance(0.015, 5, 0.015, true);

  /**
   * A slab and how it was read.
   *
   * @param seed its seed
   * @param slab the slab
   * @param score findings against truth
   * @param permittivity as found
   * @param u its stated standard uncertainty
   */
  record Read(long seed, HardSlab slab, Score score, double permittivity, double u) {
    /** Permittivity as found over as it is, less one. */
    double permittivityError() {
      return permittivity / slab.permittivity() - 1;
    }

    boolean permittivityCovered() {
      return Math.abs(permittivity - slab.permittivity()) <= 2 * u;
    }
  }

  private HardSlabs() {}

  public static void main(String[] arguments) throws IOException {
    Path folder = Files.createDirectories(Path.of(arguments[0]));
    List<Read> all = new ArrayList<>();
    for (long seed = Long.parseLong(arguments[1]); seed <= Long.parseLong(arguments[2]); seed++) {
      Read read = read(folder, seed);
      all.add(read);
      System.out.println("\nseed " + seed + ": " + read.slab());
      System.out.println(read.score());
      System.out.println(row(read));
    }
    System.out.println("\n" + table(all));
  }

  /** Makes one slab's scans in a folder, reads them, scores. */
  static Read read(Path folder, long seed) throws IOException {
    HardSlab slab = new HardSlab(seed);
    slab.write(folder.resolve("data" + seed));
    Slabnote slabnote = Slabnote.in(folder);
    String job = "slab" + seed;
    slabnote.done("new", job, "--survey", "data" + seed + "/survey.csv");
    slabnote.done("run", job);
    List<Found> found = Found.read(slabnote.done("table", job, "targets"));
    Map<String, String> velocity =
        Csv.rows(slabnote.done("table", job, "velocity")).get(0);
    return new Read(
        seed,
        slab,
        Score.of(slab.truths(), found, NEAR),
        Double.parseDouble(velocity.get("permittivity")),
        Double.parseDouble(velocity.get("permittivity_u")));
  }

  /** Reads several. */
  static List<Read> read(Path folder, LongStream seeds) throws IOException {
    List<Read> all = new ArrayList<>();
    for (long seed : seeds.toArray()) {
      all.add(read(folder, seed));
    }
    return all;
  }

  /** Share of what must be found that was, over all slabs. */
  static double recall(List<Read> all) {
    double found = 0;
    double there = 0;
    for (Read one : all) {
      double own = one.score().expectedFound();
      found += own;
      there += own + one.score().missed().size();
    }
    return found / there;
  }

  /** Share of the depths of what was found that lie within their stated uncertainty. */
  static double coverage(List<Read> all) {
    long covered = all.stream()
        .flatMap(one -> one.score().matches().stream())
        .filter(Score.Match::covered)
        .count();
    long matches = all.stream().mapToLong(one -> one.score().matches().size()).sum();
    return (double) covered / matches;
  }

  /** Findings stated as probable that are of nothing. */
  static int falseProbable(List<Read> all) {
    return all.stream().mapToInt(one -> one.score().falseProbable().size()).sum();
  }

  /** Share of the slabs whose permittivity lies within its stated uncertainty. */
  static double permittivityCoverage(List<Read> all) {
    return (double) all.stream().filter(Read::permittivityCovered).count() / all.size();
  }

  /** The figures as a table in Markdown: a row per slab, then all. */
  static String table(List<Read> all) {
    StringBuilder out =
        new StringBuilder("| seed | slab | found of those that must be | false, probable "
            + "| false, less firm | depths covered | permittivity error | covered |\n"
            + "| --- | --- | --- | --- | --- | --- | --- | --- |\n");
    all.forEach(one -> out.append(row(one)).append('\n'));
    out.append(String.format(
        Locale.ROOT,
        "| all | %d slabs | %.0f %% | %d | %d | %.0f %% | rms %.1f %% | %.0f %% |\n",
        all.size(),
        100 * recall(all),
        falseProbable(all),
        all.stream().mapToInt(one -> one.score().mistaken().size()).sum() - falseProbable(all),
        100 * coverage(all),
        100 * rms(all),
        100 * permittivityCoverage(all)));
    return out.toString();
  }

  private static double rms(List<Read> all) {
    return Math.sqrt(all.stream()
        .mapToDouble(one -> one.permittivityError() * one.permittivityError())
        .average()
        .orElse(0));
  }

  private static String row(Read one) {
    Score score = one.score();
    return String.format(
        Locale.ROOT,
        "| %d | %s | %d of %d | %d | %d | %d of %d | %+.1f %% | %s |",
        one.seed(),
        one.slab(),
        score.expectedFound(),
        score.expectedFound() + score.missed().size(),
        score.falseProbable().size(),
        score.mistaken().size() - score.falseProbable().size(),
        score.matches().stream().filter(Score.Match::covered).count(),
        score.matches().size(),
        100 * one.permittivityError(),
        one.permittivityCovered() ? "yes" : "no");
  }
}
