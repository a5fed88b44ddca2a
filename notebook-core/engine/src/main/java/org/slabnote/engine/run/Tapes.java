package org.slabnote.engine.run;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.compiler.Anatomy;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.compiler.CompiledClass;
import org.slabnote.engine.compiler.Statement;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.stop.StopPoints;
import org.slabnote.worker.Tape;

/** Makes the worker's tape of compiled cells: with the places they have in the file now, and with stop points. */
final class Tapes {
  private Tapes() {}

  static Tape of(Compiled compiled, Anatomy anatomy, Document document) {
    Map<String, Integer> firstLines = new HashMap<>();
    List<Tape.Cell> cells = new ArrayList<>();
    for (Block.Cell cell : document.cells()) {
      int first = cell.content().firstLine();
      firstLines.put(cell.name(), first);
      String sha256 = Canonical.sha256(cell.source().getBytes(StandardCharsets.UTF_8));
      cells.add(new Tape.Cell(cell.name(), first, sha256));
    }
    List<Tape.Snippet> snippets = new ArrayList<>();
    for (Statement one : compiled.statements()) {
      boolean variable = one.kind() == Statement.Kind.VARIABLE;
      int line = firstLines.getOrDefault(one.cell(), 1) + one.line() - 1;
      snippets.add(new Tape.Snippet(
          one.cell(),
          line,
          one.source(),
          one.wrapper(),
          one.method(),
          variable ? one.defines() : ""));
    }
    List<Tape.CellClass> classes = new ArrayList<>();
    for (CompiledClass one : compiled.classes()) {
      classes.add(Tape.CellClass.of(
          one.name(),
          one.cell(),
          StopPoints.into(one.bytes()), // its meaning, and so all keys, are from before
          anatomy.meaning(one.name())));
    }
    return new Tape(cells, snippets, classes);
  }
}
