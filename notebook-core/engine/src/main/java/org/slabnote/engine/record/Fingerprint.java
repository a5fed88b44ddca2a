package org.slabnote.engine.record;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.slabnote.api.Doubles;
import org.slabnote.api.Samples;
import org.slabnote.api.codec.Canonical;
import org.slabnote.api.quantity.Quantity;

/**
 * What tells two values apart without keeping them: the digest, and for the numbers within, in the
 * order of the encoding, their count, least, greatest, root mean square, and 16 samples at fixed
 * places.
 *
 * @param sha256 digest of the value's canonical encoding
 * @param count how many numbers
 * @param least least of them; 0 where there is none
 * @param greatest greatest of them
 * @param rms root of the mean square, summed in order
 * @param samples numbers at places {@code floor(i (count - 1) / 15)}, i from 0 to 15; all of them where
 *     there are at most 16
 */
public record Fingerprint(
    String sha256, int count, double least, double greatest, double rms, List<Double> samples) {
  private static final int SAMPLES = 16;

  /** Copies the list. */
  public Fingerprint {
    samples = List.copyOf(samples);
  }

  /** The fingerprint of a value that has a canonical encoding. */
  public static Fingerprint of(Object value) {
    Numbers numbers = new Numbers();
    numbers.collect(value);
    double least = 0;
    double greatest = 0;
    double squares = 0;
    for (int i = 0; i < numbers.count; i++) {
      double x = numbers.values[i];
      least = i == 0 ? x : Math.min(least, x);
      greatest = i == 0 ? x : Math.max(greatest, x);
      squares += x * x;
    }
    int kept = Math.min(SAMPLES, numbers.count);
    Double[] samples = new Double[kept];
    for (int i = 0; i < kept; i++) {
      int at =
          numbers.count <= SAMPLES ? i : (int) ((long) i * (numbers.count - 1) / (SAMPLES - 1));
      samples[i] = numbers.values[at];
    }
    double rms = numbers.count == 0 ? 0 : Math.sqrt(squares / numbers.count);
    return new Fingerprint(
        Canonical.digest(value), numbers.count, least, greatest, rms, Arrays.asList(samples));
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
        line.path("count").asInt(),
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
    if (most > 0) {
      return "among " + samples.size() + " samples of " + count + " numbers the farthest apart are "
          + plain(before) + " before and " + plain(now) + " now; rms " + plain(rms) + " before, "
          + plain(other.rms) + " now";
    }
    return "the samples agree; rms " + plain(rms) + " before, " + plain(other.rms) + " now";
  }

  private static String plain(double value) {
    return org.slabnote.api.quantity.Units.plain(value, 9);
  }

  /** Gathers the finite numbers of a value in the order of its encoding. */
  private static final class Numbers {
    private double[] values = new double[64];
    private int count;

    void collect(Object value) {
      if (value instanceof Samples samples) {
        for (int i = 0; i < samples.size(); i++) {
          add(samples.get(i));
        }
      } else if (value instanceof Doubles doubles) {
        for (int i = 0; i < doubles.size(); i++) {
          add(doubles.get(i));
        }
      } else if (value instanceof Quantity<?> quantity) {
        add(quantity.value());
      } else if (value instanceof Double || value instanceof Integer || value instanceof Long) {
        add(((Number) value).doubleValue());
      } else if (value instanceof Optional<?> optional) {
        optional.ifPresent(this::collect);
      } else if (value instanceof List<?> list) {
        list.forEach(this::collect);
      } else if (value instanceof Map<?, ?> map) {
        map.values().forEach(this::collect);
      } else if (value.getClass().isRecord()) {
        Components.of(value).values().forEach(this::collect);
      }
    }

    private void add(double value) {
      if (Double.isNaN(value) || Double.isInfinite(value)) {
        return;
      }
      if (count == values.length) {
        values = Arrays.copyOf(values, 2 * count);
      }
      values[count++] = value;
    }
  }
}
