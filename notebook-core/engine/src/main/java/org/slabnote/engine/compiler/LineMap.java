package org.slabnote.engine.compiler;

import java.util.NavigableMap;
import java.util.TreeMap;
import jdk.jshell.SourceCodeAnalysis.SnippetWrapper;

/** Tells which line of the cell a line of the wrapped source came from. */
final class LineMap {
  private final NavigableMap<Integer, Integer> cellLineOfWrapped = new TreeMap<>();
  private final int firstLine;

  /**
   * Maps the lines of a wrapper.
   *
   * @param wrapper what JShell made of the statement
   * @param source the statement's text
   * @param firstLine line within the cell of the statement's first character
   */
  LineMap(SnippetWrapper wrapper, String source, int firstLine) {
    this.firstLine = firstLine;
    String wrapped = wrapper.wrapped();
    int[] lineOf = new int[wrapped.length() + 1];
    int line = 1;
    for (int i = 0; i < wrapped.length(); i++) {
      lineOf[i] = line;
      if (wrapped.charAt(i) == '\n') {
        line++;
      }
    }
    int cellLine = firstLine;
    for (int i = 0; i < source.length(); i++) {
      char c = source.charAt(i);
      int at = wrapper.sourceToWrappedPosition(i);
      if (c > ' ' && at > 0 && at < wrapped.length() && wrapped.charAt(at) == c) {
        cellLineOfWrapped.putIfAbsent(lineOf[at], cellLine);
      }
      if (c == '\n') {
        cellLine++;
      }
    }
  }

  int cellLine(int wrappedLine) {
    var below = cellLineOfWrapped.floorEntry(wrappedLine);
    return below == null ? firstLine : below.getValue();
  }
}
