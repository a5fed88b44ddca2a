package org.slabnote.engine.record;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import org.slabnote.api.quantity.Units;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.BadInput;

/**
 * Compares a record with what a clean run gave, and words the first difference.
 *
 * @since 0.1
 */
public final class Recheck {
  private static final List<String> NAMES = List.of(
      "step",
      "cell",
      "table",
      "finding",
      "conclusion",
      "result",
      "input",
      "data",
      "plugin",
      "scan",
      "figure",
      "open",
      "seen",
      "unseen",
      "cut",
      "job",
      "required_clearance",
      "rejected",
      "events",
      "title",
      "record");

  private Recheck() {}

  /**
   * Compares.
   *
   * @param before the record in the job folder
   * @param now what a clean run gave
   * @return the first fact that differs and by how much; empty when both are the same byte for byte
   */
  public static Optional<String> firstDifference(RecordFiles before, RecordFiles now) {
    if (Arrays.equals(before.record(), now.record())
        && Arrays.equals(before.digests(), now.digests())) {
      return Optional.empty();
    }
    try {
      List<JsonNode> old = RecordReader.parse(Job.RECORD, before.record());
      List<JsonNode> fresh = RecordReader.parse(Job.RECORD, now.record());
      for (int i = 0; i < Math.max(old.size(), fresh.size()); i++) {
        if (i >= fresh.size()) {
          return Optional.of(Job.RECORD + ", line " + (i + 1) + ": " + name(old.get(i))
              + " stands in the record; a clean run does not give it");
        }
        if (i >= old.size()) {
          return Optional.of(Job.RECORD + ", line " + (i + 1) + ": a clean run gives "
              + name(fresh.get(i)) + ", which does not stand in the record");
        }
        if (!old.get(i).equals(fresh.get(i))) {
          return Optional.of(line(i + 1, old.get(i), fresh.get(i)));
        }
      }
      return Optional.of(digests(before, now));
    } catch (BadInput bad) {
      return Optional.of(bad.problems().get(0).toString());
    }
  }

  private static String line(int number, JsonNode old, JsonNode fresh) {
    String place = Job.RECORD + ", line " + number + ": ";
    if (!name(old).equals(name(fresh))) {
      return place + name(old) + " stands there; a clean run gives " + name(fresh);
    }
    return place + name(old) + ": " + difference("", old, fresh);
  }

  /** The fact in a word: {@code finding T01}. */
  private static String name(JsonNode fact) {
    for (String key : NAMES) {
      if (fact.has(key)) {
        String row = fact.has("row") ? ", row " + fact.get("row").asText() : "";
        return key + " " + fact.get(key).asText() + row;
      }
    }
    return fact.toString();
  }

  private static String difference(String path, JsonNode old, JsonNode fresh) {
    if (old.isObject() && fresh.isObject()) {
      TreeSet<String> keys = new TreeSet<>();
      for (Iterator<String> it = old.fieldNames(); it.hasNext(); ) {
        keys.add(it.next());
      }
      for (Iterator<String> it = fresh.fieldNames(); it.hasNext(); ) {
        keys.add(it.next());
      }
      for (String key : keys) {
        if (!old.path(key).equals(fresh.path(key))) {
          return difference(
              path.isEmpty() ? key : path + "." + key, old.path(key), fresh.path(key));
        }
      }
    }
    if (old.isArray() && fresh.isArray() && old.size() == fresh.size()) {
      for (int i = 0; i < old.size(); i++) {
        if (!old.get(i).equals(fresh.get(i))) {
          return difference(path + "[" + (i + 1) + "]", old.get(i), fresh.get(i));
        }
      }
    }
    String by = old.isNumber() && fresh.isNumber()
        ? " (" + Units.plain(fresh.asDouble() - old.asDouble(), 3) + ")"
        : "";
    return path + " = " + shown(old) + " in the record, " + shown(fresh) + " now" + by;
  }

  private static String shown(JsonNode node) {
    if (node.isMissingNode()) {
      return "nothing";
    }
    return node.isNumber()
        ? Units.plain(node.asDouble(), 9)
        : node.isTextual() ? node.asText() : node.toString();
  }

  private static String digests(RecordFiles before, RecordFiles now) throws BadInput {
    SortedMap<String, Fingerprint> old = fingerprints(before);
    SortedMap<String, Fingerprint> fresh = fingerprints(now);
    for (String address : old.keySet()) {
      Fingerprint other = fresh.get(address);
      if (other == null) {
        return Job.DIGESTS + ": step " + address + " stands there; a clean run does not demand it";
      }
      if (!other.equals(old.get(address))) {
        return Job.DIGESTS + ": step " + address + " differs: "
            + old.get(address).difference(other);
      }
    }
    for (String address : fresh.keySet()) {
      if (!old.containsKey(address)) {
        return Job.DIGESTS + ": a clean run demands step " + address
            + ", which does not stand there";
      }
    }
    return "the two differ only in how they are written: spaces, order of keys or line ends. "
        + "Run the job again";
  }

  private static SortedMap<String, Fingerprint> fingerprints(RecordFiles files) throws BadInput {
    SortedMap<String, Fingerprint> all = new TreeMap<>();
    for (JsonNode line : RecordReader.parse(Job.DIGESTS, files.digests())) {
      all.put(line.path("of").asText(), Fingerprint.parse(line));
    }
    all.remove(Job.RECORD);
    return all;
  }
}
