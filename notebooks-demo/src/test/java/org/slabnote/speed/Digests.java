package org.slabnote.speed;

import java.util.Collection;
import java.util.Locale;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.slabnote.api.codec.Canonical;

/** Runs {@link DigestBenchmark} and tells megabytes a second. */
final class Digests {
  private Digests() {}

  static void measure(Page page) throws Exception {
    Collection<RunResult> results = new Runner(
            new OptionsBuilder().include(DigestBenchmark.class.getName() + ".*").build())
        .run();
    double megabytes = Canonical.encode(LargeScan.scan()).length / 1e6;
    double peer = score(results, "sha256Only");
    page.head(
        String.format(Locale.ROOT, "Digest of a scan: %.2f MB (JMH)", megabytes),
        "what",
        "time",
        "MB/s",
        "ratio of times");
    row(page, "canonical encoding and SHA-256", score(results, "encodeAndDigest"), megabytes, peer);
    row(page, "canonical encoding alone", score(results, "encodeOnly"), megabytes, peer);
    row(page, "peer: the JDK's SHA-256 of the same bytes", peer, megabytes, peer);
  }

  private static void row(Page page, String what, double millis, double megabytes, double peer) {
    page.row(
        what,
        String.format(Locale.ROOT, "%.2f ms", millis),
        String.format(Locale.ROOT, "%.0f", megabytes / millis * 1000),
        String.format(Locale.ROOT, "%.2f", millis / peer));
  }

  private static double score(Collection<RunResult> results, String name) {
    return results.stream()
        .filter(result -> result.getParams().getBenchmark().endsWith("." + name))
        .findFirst()
        .orElseThrow()
        .getPrimaryResult()
        .getScore();
  }
}
