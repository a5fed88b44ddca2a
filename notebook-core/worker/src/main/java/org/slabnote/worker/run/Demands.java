package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.slabnote.worker.RunOutcome.Demand;
import org.slabnote.worker.Trail;

/** What the cells demanded and read, in order. */
final class Demands {
  /** A demand before its steps have addresses. */
  private record Open(
      Demand.Kind kind, String name, Place place, Node<?> node, List<Node<?>> over) {}

  /** Something that a statement read, of a step or by name. */
  private record Seen(
      int statement, Trail.Kind kind, String name, @Nullable Node<?> node) {}

  private final List<Open> all = new ArrayList<>();
  private final Map<String, Place> taken = new TreeMap<>();
  private final Set<String> got = new HashSet<>();
  private final Map<String, SortedSet<String>> blocks = new LinkedHashMap<>();
  private final Set<Seen> reads = new LinkedHashSet<>();

  /**
   * Notes a demand.
   *
   * @throws IllegalArgumentException if the name, or what a job has one of, is taken
   */
  void add(Demand.Kind kind, String name, Place place, Node<?> node, List<Node<?>> over) {
    if (kind != Demand.Kind.SHOW) {
      String what = switch (kind) {
        case TABLE -> "table " + name;
        case CONCLUDE -> "conclusion " + name;
        case FINDINGS -> "findings";
        case LEDGER -> "the event ledger";
        case SEEN, SHOW, GOT -> "what could be seen";
      };
      Place before = taken.putIfAbsent(what, place);
      if (before != null) {
        throw new IllegalArgumentException(what + ": stated already in cell " + before.cell()
            + ", line " + before.line() + ". State it once"
            + (name.isEmpty() ? "" : ", or give one of the two another name"));
      }
    }
    all.add(new Open(kind, name, place, node, over));
  }

  /** Notes that a cell got the value of a step: told once for each cell and step. */
  void got(Place place, int statement, Node<?> node) {
    reads.add(new Seen(statement, Trail.Kind.VALUE, "", node));
    if (got.add(place.cell() + " " + node.index)) {
      all.add(new Open(Demand.Kind.GOT, "", place, node, List.of()));
    }
  }

  /** Notes that a cell read a csv block. */
  void read(String cell, String block) {
    blocks.computeIfAbsent(cell, c -> new TreeSet<>()).add(block);
  }

  /** Notes that a statement read something. */
  void read(int statement, Trail.Kind kind, String name) {
    reads.add(new Seen(statement, kind, name, null));
  }

  /** Returns what the statements read, once all steps have addresses. */
  List<Trail.Read> reads() {
    return reads.stream()
        .filter(one -> one.statement() >= 0)
        .map(one -> new Trail.Read(
            one.statement(),
            one.kind(),
            one.node() == null ? one.name() : one.node().named()))
        .toList();
  }

  /** Returns the steps that are demanded, each once, in order of their statement. */
  List<Node<?>> nodes() {
    TreeMap<Integer, Node<?>> nodes = new TreeMap<>();
    for (Open open : all) {
      nodes.put(open.node().index, open.node());
      open.over().forEach(node -> nodes.put(node.index, node));
    }
    return new ArrayList<>(nodes.values());
  }

  /** Returns the addresses of the steps that a cell got, in order of their statement. */
  List<String> gotBy(String cell) {
    TreeMap<Integer, String> addresses = new TreeMap<>();
    for (Open open : all) {
      if (open.kind() == Demand.Kind.GOT && open.place().cell().equals(cell)) {
        addresses.put(open.node().index, open.node().named());
      }
    }
    return new ArrayList<>(addresses.values());
  }

  List<String> readBy(String cell) {
    return new ArrayList<>(blocks.getOrDefault(cell, new TreeSet<>()));
  }

  List<Demand> facts() {
    return all.stream()
        .map(open -> new Demand(
            open.kind(),
            open.name(),
            open.place().cell(),
            open.place().line(),
            open.node().named(),
            open.over().stream().<String>map(Node::named).toList()))
        .toList();
  }
}
