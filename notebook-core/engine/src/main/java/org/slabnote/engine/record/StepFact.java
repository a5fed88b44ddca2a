package org.slabnote.engine.record;

import java.util.Collections;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * One application of an operation, as the record tells it.
 *
 * @param address its address: {@code cell/variable} or {@code cell/variable/pass}
 * @param group the address without the pass; like steps over passes share it
 * @param pass the name within the group; empty where the step stands alone
 * @param op id and revision of the operation, {@code filters.dewow/1}; for one declared in a cell,
 *     {@code cell:NAME}
 * @param declared SHA-256 of the source that declares it; empty unless declared in a cell
 * @param params parameters by name: quantities, text, numbers, enums, lists, records of these
 * @param inputs addresses of its inputs by component, in order; a scan is {@code scan/PASS/CHANNEL}
 * @since 0.1
 */
public record StepFact(
    String address,
    String group,
    String pass,
    String op,
    String declared,
    SortedMap<String, Object> params,
    SortedMap<String, List<String>> inputs) {
  /** Copies the maps. */
  public StepFact {
    params = Collections.unmodifiableSortedMap(new TreeMap<>(params));
    inputs = Collections.unmodifiableSortedMap(new TreeMap<>(inputs));
  }
}
