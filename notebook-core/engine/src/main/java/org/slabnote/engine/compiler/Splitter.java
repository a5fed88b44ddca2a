package org.slabnote.engine.compiler;

import java.util.ArrayList;
import java.util.List;
import jdk.jshell.SourceCodeAnalysis;
import jdk.jshell.SourceCodeAnalysis.Completeness;
import jdk.jshell.SourceCodeAnalysis.CompletionInfo;

/** Splits a cell into statements as JShell understands them. */
final class Splitter {
  /**
   * A statement's text.
   *
   * @param offset of its first character in the cell
   * @param text stripped
   * @param finished false when the cell ends inside it
   */
  record Piece(int offset, String text, boolean finished) {}

  private final SourceCodeAnalysis analysis;

  Splitter(SourceCodeAnalysis analysis) {
    this.analysis = analysis;
  }

  List<Piece> split(String cell) {
    List<Piece> pieces = new ArrayList<>();
    int at = 0;
    while (at < cell.length()) {
      String rest = cell.substring(at);
      CompletionInfo info = analysis.analyzeCompletion(rest);
      Completeness completeness = info.completeness();
      String remaining = info.remaining() == null ? "" : info.remaining();
      boolean whole = completeness == Completeness.UNKNOWN || !completeness.isComplete();
      int end = whole ? cell.length() : cell.length() - remaining.length();
      if (end <= at) {
        end = cell.length();
      }
      String text = cell.substring(at, end);
      String stripped = withoutLeadingComments(text.strip());
      if (completeness != Completeness.EMPTY && !stripped.isEmpty()) {
        int lead = text.lastIndexOf(stripped);
        boolean finished = completeness.isComplete() || completeness == Completeness.UNKNOWN;
        pieces.add(new Piece(at + lead, stripped, finished));
      }
      at = end;
    }
    return pieces;
  }

  /** The statement's line is that of its first word, not of the comment above it. */
  private static String withoutLeadingComments(String text) {
    String rest = text;
    while (true) {
      int end;
      if (rest.startsWith("//")) {
        int newline = rest.indexOf('\n');
        end = newline < 0 ? rest.length() : newline + 1;
      } else if (rest.startsWith("/*")) {
        int close = rest.indexOf("*/", 2);
        end = close < 0 ? -1 : close + 2;
      } else {
        return rest;
      }
      if (end < 0) {
        return rest;
      }
      rest = rest.substring(end).strip();
    }
  }
}
