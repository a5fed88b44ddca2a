package org.slabnote.worker.process;

import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.Map;
import org.slabnote.worker.PluginJars;
import org.slabnote.worker.RunListener.CellState;
import org.slabnote.worker.RunOutcome.Failure;
import org.slabnote.worker.RunRequest;
import org.slabnote.worker.Tape;

/** What the worker was at when it was last heard of. */
final class LastNews {
  private final RunRequest request;
  private final Map<String, String> steps = new LinkedHashMap<>();
  private final Map<String, Integer> lines = new LinkedHashMap<>();
  private String cell = "";
  private int statementLine;

  LastNews(RunRequest request) {
    this.request = request;
  }

  synchronized void hear(Message.News news) {
    if (news instanceof Message.OfCell c) {
      cell = c.state() == CellState.REPLAYING ? c.cell() : "";
      statementLine = 0;
    } else if (news instanceof Message.At at) {
      if (at.address().isEmpty()) {
        statementLine = at.line();
      } else {
        lines.put(at.address(), at.line());
      }
    } else if (news instanceof Message.Started s) {
      steps.put(s.address(), s.operation());
    } else if (news instanceof Message.Finished f) {
      steps.remove(f.address());
      lines.remove(f.address());
    }
  }

  /** Returns a failure charged to the step that began first of those on their way, or to the cell. */
  synchronized Failure failure(Failure.Kind kind, String words) {
    Iterator<Map.Entry<String, String>> first = steps.entrySet().iterator();
    if (first.hasNext()) {
      Map.Entry<String, String> step = first.next();
      String of = step.getKey().substring(0, step.getKey().indexOf('/'));
      boolean known = request.tape().cells().stream().anyMatch(c -> c.name().equals(of));
      return new Failure(
          kind,
          known ? of : cell,
          lines.getOrDefault(step.getKey(), known ? line(of) : line(cell)),
          "",
          step.getKey(),
          "",
          PluginJars.named(request.plugins(), step.getValue()) + ": " + words
              + (steps.size() > 1
                  ? " (" + (steps.size() - 1) + " more steps were on their way)"
                  : ""));
    }
    return new Failure(
        kind, cell, statementLine > 0 ? statementLine : line(cell), "", "", "", words);
  }

  private int line(String name) {
    return request.tape().cells().stream()
        .filter(c -> c.name().equals(name))
        .mapToInt(Tape.Cell::firstLine)
        .findFirst()
        .orElse(0);
  }
}
