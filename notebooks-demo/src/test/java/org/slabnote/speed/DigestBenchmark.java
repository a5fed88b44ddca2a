package org.slabnote.speed;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.slabnote.api.Scan;
import org.slabnote.api.codec.Canonical;

/** Digest of a scan of 2000 traces of 512 samples, its encoding included, against the JDK's SHA-256 alone. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class DigestBenchmark {
  private Scan scan = LargeScan.scan();
  private byte[] encoded = new byte[0];

  /** Encodes the scan once, for the peer. */
  @Setup
  public void encode() {
    encoded = Canonical.encode(scan);
  }

  /** Encoding and digest. */
  @Benchmark
  public String encodeAndDigest() {
    return Canonical.sha256(Canonical.encode(scan));
  }

  /** Encoding alone. */
  @Benchmark
  public byte[] encodeOnly() {
    return Canonical.encode(scan);
  }

  /** The peer: bare SHA-256 of the same bytes. */
  @Benchmark
  public byte[] sha256Only() throws NoSuchAlgorithmException {
    return MessageDigest.getInstance("SHA-256").digest(encoded);
  }
}
