package org.slabnote.engine.document;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Pattern;
import org.commonmark.node.AbstractVisitor;
import org.commonmark.node.FencedCodeBlock;
import org.commonmark.node.Node;
import org.commonmark.node.SourceSpan;
import org.commonmark.parser.IncludeSourceSpans;
import org.commonmark.parser.Parser;
import org.slabnote.engine.problem.Problem;

/** Finds the fenced blocks with commonmark-java and cuts the text at them. */
final class Blocks {
  private static final Pattern NAME = Pattern.compile("[A-Za-z][A-Za-z0-9_-]*");
  private static final String NAME_RULE =
      "A name is letters, digits, - and _, and begins with a letter";

  private final String file;
  private final String text;
  private final int[] lineStarts;
  private final List<Block> blocks = new ArrayList<>();
  private final List<Problem> problems = new ArrayList<>();
  private final Map<String, Integer> lineOfName = new LinkedHashMap<>();
  private int cut;

  Blocks(String file, String text) {
    this.file = file;
    this.text = text;
    this.lineStarts = Lines.starts(text);
  }

  Document document() {
    Parser parser =
        Parser.builder().includeSourceSpans(IncludeSourceSpans.BLOCKS).build();
    Node root = parser.parse(text);
    root.accept(new AbstractVisitor() {
      @Override
      public void visit(FencedCodeBlock fence) {
        take(fence);
      }
    });
    prose(text.length());
    return new Document(file, text, blocks, problems);
  }

  private void take(FencedCodeBlock fence) {
    String info = fence.getInfo() == null ? "" : fence.getInfo().strip();
    String[] words = info.split("\\s+");
    String language = words[0].toLowerCase(Locale.ROOT);
    if (!language.equals("java") && !language.equals("csv")) {
      return;
    }
    List<SourceSpan> spans = fence.getSourceSpans();
    int line = spans.get(0).getLineIndex() + 1;
    String name = words.length > 1 ? words[1] : "";
    if (!(fence.getParent() instanceof org.commonmark.node.Document)) {
      problem(
          line,
          name,
          "the block stands inside a list or a quotation. "
              + "Move its lines to the left margin, with an empty line before");
      return;
    }
    boolean sound = checkName(line, language, words, name);
    boolean closed = fence.getClosingFenceLength() != null;
    if (!closed) {
      problem(
          line,
          name,
          "the block that opens here is never closed. Put a line of "
              + String.valueOf(fence.getFenceCharacter()).repeat(fence.getOpeningFenceLength())
              + " after its last line");
    }
    if (sound) {
      add(language, name, spans, closed);
    }
  }

  private boolean checkName(int line, String language, String[] words, String name) {
    String what = language.equals("java") ? "cell" : "csv block";
    if (name.isEmpty()) {
      problem(
          line,
          "",
          "this " + what + " has no name. Write the name behind the language: ```" + language + " "
              + (language.equals("java") ? "velocity" : "picks-E04"));
      return false;
    }
    if (words.length > 2) {
      problem(
          line,
          name,
          "\"" + words[2] + "\" stands after the name; expected one name only. " + NAME_RULE);
      return false;
    }
    if (!NAME.matcher(name).matches()) {
      problem(line, "", "\"" + name + "\" cannot be the name of a " + what + ". " + NAME_RULE);
      return false;
    }
    Integer before = lineOfName.putIfAbsent(name, line);
    if (before != null) {
      problem(
          line,
          name,
          "the name " + name + " is taken by the block at line " + before
              + ". Give one of the two another name");
      return false;
    }
    return true;
  }

  private void add(String language, String name, List<SourceSpan> spans, boolean closed) {
    int first = spans.get(0).getLineIndex();
    int last = spans.get(spans.size() - 1).getLineIndex();
    int contentLines = Math.max(0, last - first - (closed ? 1 : 0));
    prose(lineStarts[first]);
    Span span = lines(first, last - first + 1);
    Span content = lines(first + 1, contentLines);
    String source = Lines.unix(content.of(text));
    blocks.add(
        language.equals("java")
            ? new Block.Cell(name, source, span, content)
            : new Block.Data(name, source, span, content));
    cut = span.end();
  }

  private void prose(int end) {
    if (end > cut) {
      int line = Lines.indexAt(lineStarts, cut);
      int count = Lines.indexAt(lineStarts, end - 1) - line + 1;
      blocks.add(new Block.Prose(new Span(cut, end, line + 1, count)));
      cut = end;
    }
  }

  private Span lines(int first, int count) {
    int start = startOf(first);
    return new Span(start, count == 0 ? start : startOf(first + count), first + 1, count);
  }

  private int startOf(int line) {
    return line < lineStarts.length ? lineStarts[line] : text.length();
  }

  private void problem(int line, String name, String message) {
    problems.add(new Problem(Problem.Kind.NOTEBOOK, file, line, name, message));
  }
}
