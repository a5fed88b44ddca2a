package org.slabnote.engine.trace;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;
import org.slabnote.engine.compiler.Anatomy;
import org.slabnote.engine.compiler.Reading;
import org.slabnote.engine.compiler.Statement;

/**
 * A statement as far as its reach goes.
 *
 * @param cell its cell
 * @param kind what it is
 * @param defines the name it defines; empty when none
 * @param reads names of other statements that it refers to
 * @param writes variables of other statements that it assigns
 * @param code digest of what it does, wherever it stands; empty for an import
 * @param readings parts of the job that it reads
 * @param shared whether its variable may hold something that can be changed in place
 * @param changes whether it may change in place what others hold
 */
record Stated(
    String cell,
    Statement.Kind kind,
    String defines,
    List<String> reads,
    List<String> writes,
    String code,
    List<Reading> readings,
    boolean shared,
    boolean changes) {
  Stated {
    reads = List.copyOf(reads);
    writes = List.copyOf(writes);
    readings = List.copyOf(readings);
  }

  /** The statements of cells that were taken apart, in order. */
  static List<Stated> of(Anatomy anatomy) {
    List<Anatomy.Part> parts = anatomy.parts();
    List<Stated> all = new ArrayList<>();
    for (int i = 0; i < parts.size(); i++) {
      Statement one = anatomy.statements().get(i);
      Anatomy.Part part = parts.get(i);
      all.add(new Stated(
          one.cell(),
          one.kind(),
          one.defines(),
          new ArrayList<>(one.reads()),
          new ArrayList<>(one.writes()),
          part.code(),
          part.readings(),
          part.shared(),
          part.changes()));
    }
    return all;
  }

  boolean isImport() {
    return kind == Statement.Kind.IMPORT;
  }

  /** Two statements of one sign do the same and define the same. */
  String sign() {
    return kind + " " + defines + " " + code;
  }

  /** The same, counted as edited in an unknown way. */
  Stated edited() {
    return new Stated(cell, kind, defines, reads, writes, "edited", readings, shared, changes);
  }

  /** Names that the statements read or write, sorted. */
  static SortedSet<String> names(List<Stated> statements) {
    SortedSet<String> names = new TreeSet<>();
    statements.forEach(one -> names.add(one.defines()));
    return Collections.unmodifiableSortedSet(names);
  }
}
