package org.slabnote.engine.record;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Arrays;
import java.util.List;

/**
 * What tells two values apart without keeping them: the digest, and for the finite numbers within, in
 * the order of the encoding (samples only, where the value has samples), their count, least, greatest,
 * root mean square, and 16 samples at fixed places.
 *
 * @param sha256 digest of the value's canonical encoding
 * @param count how many numbers
 * @param least least of them; 0 where there is none
 * @param greatest greatest of them
 * @param rms root of the mean square, summed in order
 * @param samples numbers at places {@code floor(i (count - 1) / 15)}, i from 0 to 15; all of them where
 *     there are at most 16
 * @since 0.1
 */
public record Fingerprint(
    String sha256, long count, double least, double greatest, double rms, List<Double> samples) {
  /** Copies the list. */
  public Fingerprint {
    samples = List.copyOf(samples);
  }

  /** The line of {@code interpretation.digests}. */
  ObjectNode line(String address) {
    ObjectNode node = Json.object();
    node.put("of", address);
    node.put("sha256", sha256);
    if (count > 0) {
      node.put("count", count);
      node.put("min", least);
      node.put("max", greatest);
      node.put("rms", rms);
      ArrayNode array = node.putArray("samples");
      samples.forEach(array::add);
    }
    return node;
  }

  static Fingerprint parse(JsonNode line) {
    Double[] samples = new Double[line.path("samples").size()];
    for (int i = 0; i < samples.length; i++) {
      samples[i] = line.path("samples").get(i).asDouble();
    }
    return new Fingerprint(
        line.path("sha256").asText(),
        line.path("count").asLong(),
        line.path("min").asDouble(),
        line.path("max").asDouble(),
        line.path("rms").asDouble(),
        Arrays.asList(samples));
  }

  /** How far another value's numbers lie from these, as far as the samples tell, in words. */
  String difference(Fingerprint other) {
    if (count != other.count) {
      return count + " numbers before, " + other.count + " now";
    }
    double most = 0;
    double before = 0;
    double now = 0;
    for (int i = 0; i < samples.size(); i++) {
      double off = Math.abs(samples.get(i) - other.samples.get(i));
      if (off > most) {
        most = off;
        before = samples.get(i);
        now = other.samples.get(i);
      }
    }
    String level = "rms " + plain(rms) + " before, " + plain(other.rms) + " now";
    if (most > 0) {
      return "of " + samples.size() + " compared numbers out of " + count
          + " the farthest apart is " + plain(before) + " before, " + plain(now) + " now ("
          + org.slabnote.api.quantity.Units.plain(now - before, 3) + "); " + level;
    }
    return "the " + samples.size() + " compared numbers out of " + count + " agree; " + level;
  }

  private static String plain(double value) {
    return org.slabnote.api.quantity.Units.plain(value, 12);
  }
}
