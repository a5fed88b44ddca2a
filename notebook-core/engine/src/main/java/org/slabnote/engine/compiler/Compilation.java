package org.slabnote.engine.compiler;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import jdk.jshell.DeclarationSnippet;
import jdk.jshell.Diag;
import jdk.jshell.JShell;
import jdk.jshell.Snippet;
import jdk.jshell.Snippet.Status;
import jdk.jshell.Snippet.SubKind;
import jdk.jshell.SnippetEvent;
import jdk.jshell.SourceCodeAnalysis.SnippetWrapper;
import jdk.jshell.VarSnippet;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/** One pass over the cells: what was compiled so far, and what was wrong. */
final class Compilation {
  private static final Pattern MISSING = Pattern.compile("cannot find symbol: \\w+ (\\w+)");

  private record Place(String cell, int line) {
    @Override
    public String toString() {
      return "cell " + cell + ", line " + line;
    }
  }

  /** A definition whose body names what nothing above it defines. */
  private record Unresolved(Place place, String name, List<String> missing) {}

  private final JShell shell;
  private final ClassCatcher catcher;
  private final Document document;
  private final Splitter splitter;
  private final List<Statement> statements = new ArrayList<>();
  private final List<CompiledClass> classes = new ArrayList<>();
  private final List<Problem> problems = new ArrayList<>();
  private final List<Unresolved> unresolved = new ArrayList<>();
  private final Map<String, Place> definedAt = new LinkedHashMap<>();
  private final Map<String, Place> placeOfSnippet = new LinkedHashMap<>();
  private final StringBuilder failedSources = new StringBuilder();
  private boolean tangled;

  Compilation(JShell shell, ClassCatcher catcher, Document document) {
    this.shell = shell;
    this.catcher = catcher;
    this.document = document;
    this.splitter = new Splitter(shell.sourceCodeAnalysis());
  }

  void compile(Block.Cell cell) {
    for (Splitter.Piece piece : splitter.split(cell.source())) {
      if (tangled) {
        return;
      }
      if (piece.finished()) {
        statement(cell, piece);
      } else {
        problem(
            place(cell, piece.offset()),
            "the statement that begins here does not end within the cell: \""
                + firstLine(piece.text())
                + "\". Perhaps a bracket, a brace or a quotation mark is not closed");
        failedSources.append(piece.text()).append('\n');
      }
    }
  }

  Compiled finish() throws BadInput {
    for (Unresolved one : unresolved) {
      for (String missing : one.missing()) {
        problem(one.place(), one.name() + " uses " + missing + ", " + whereDefined(missing));
      }
    }
    if (!problems.isEmpty()) {
      throw new BadInput(problems.stream()
          .map(this::withLaterDefinition)
          .sorted(java.util.Comparator.comparingInt(Problem::line))
          .collect(Collectors.toList()));
    }
    return new Compiled(statements, classes);
  }

  /** A name that is missing here and stands below is told with its place. */
  private Problem withLaterDefinition(Problem problem) {
    Matcher missing = MISSING.matcher(problem.message());
    Place later = missing.find() ? definedAt.get(missing.group(1)) : null;
    return later == null || later.line() <= problem.line()
        ? problem
        : new Problem(
            problem.kind(),
            problem.file(),
            problem.line(),
            problem.cell(),
            problem.message() + ", which " + later
                + " defines after it. Move that definition above");
  }

  private void statement(Block.Cell cell, Splitter.Piece piece) {
    Place place = place(cell, piece.offset());
    List<SnippetEvent> events = shell.eval(piece.text());
    Map<String, byte[]> loaded = catcher.takeClasses();
    Map<String, String> methods = catcher.takeMethods();
    for (SnippetEvent event : events) {
      if (tangled) {
        return;
      }
      if (event.causeSnippet() != null) {
        disturbed(place, event);
      } else if (!event.status().isDefined()) {
        rejected(cell, piece, event.snippet());
      } else {
        define(cell, place, piece, event, loaded, methods);
      }
    }
  }

  private void define(
      Block.Cell cell,
      Place place,
      Splitter.Piece piece,
      SnippetEvent event,
      Map<String, byte[]> loaded,
      Map<String, String> methods) {
    Snippet snippet = event.snippet();
    placeOfSnippet.put(snippet.id(), place);
    String name = nameOf(snippet);
    if (!name.isEmpty() && taken(place, snippet, name, event.previousStatus())) {
      return;
    }
    if (event.status() != Status.VALID && snippet instanceof DeclarationSnippet declaration) {
      unresolved.add(new Unresolved(
          place,
          name,
          shell.unresolvedDependencies(declaration).sorted().collect(Collectors.toList())));
      return;
    }
    if (snippet.kind() == Snippet.Kind.IMPORT) {
      add(cell, piece, Statement.Kind.IMPORT, "", "", "", "");
      return;
    }
    SnippetWrapper wrapper = shell.sourceCodeAnalysis().wrapper(snippet);
    int cellLine = lineIn(cell.source(), piece.offset());
    LineMap lines = new LineMap(wrapper, snippet.source(), cellLine);
    String top = wrapper.fullClassName();
    for (Map.Entry<String, byte[]> one : loaded.entrySet()) {
      if (one.getKey().equals(top) || one.getKey().startsWith(top + "$")) {
        byte[] bytes = StrictRewriter.rewrite(one.getValue(), cell.name(), lines::cellLine);
        classes.add(new CompiledClass(one.getKey(), cell.name(), statements.size(), bytes));
      }
    }
    String type = snippet instanceof VarSnippet v && !name.isEmpty() ? v.typeName() : "";
    add(cell, piece, kindOf(snippet), name, type, top, methods.getOrDefault(top, ""));
  }

  private void add(
      Block.Cell cell,
      Splitter.Piece piece,
      Statement.Kind kind,
      String name,
      String type,
      String wrapper,
      String method) {
    statements.add(new Statement(
        cell.name(),
        lineIn(cell.source(), piece.offset()),
        piece.text(),
        kind,
        name,
        type,
        wrapper,
        method,
        new TreeSet<>(),
        new TreeSet<>()));
  }

  /** True, with a problem stated, when the name stands elsewhere already. */
  private boolean taken(Place place, Snippet snippet, String name, Status previous) {
    Place before = definedAt.putIfAbsent(name, place);
    boolean overload = snippet.kind() == Snippet.Kind.METHOD
        && previous == Status.NONEXISTENT
        && before != null
        && before.cell().equals(place.cell());
    if (before == null || overload) {
      return false;
    }
    problem(
        place,
        "the name " + name + " is defined already in " + before
            + ". A name is defined once in a notebook: give one of the two another name");
    tangled = true;
    return true;
  }

  private void disturbed(Place place, SnippetEvent event) {
    Place earlier = placeOfSnippet.get(event.snippet().id());
    tangled = true;
    if (unresolved.stream().anyMatch(one -> one.place().equals(earlier))) {
      return; // told there, with this place
    }
    problem(
        place,
        "this changes what " + describe(event.snippet()) + " in "
            + (earlier == null ? "an earlier cell" : earlier)
            + " means. Give it a name that nothing above uses, or move it above that line");
  }

  private static String describe(Snippet snippet) {
    String name = nameOf(snippet);
    return name.isEmpty() ? "\"" + firstLine(snippet.source()) + "\"" : name;
  }

  private void rejected(Block.Cell cell, Splitter.Piece piece, Snippet snippet) {
    Set<String> seen = new HashSet<>();
    List<Diag> diags = shell.diagnostics(snippet).collect(Collectors.toList());
    for (Diag diag : diags) {
      if (!diag.isError()) {
        continue;
      }
      String message = PlainMessage.of(diag.getMessage(Locale.ENGLISH));
      Place at = place(cell, piece.offset() + (int) Math.max(0, diag.getPosition()));
      if (!followsFromEarlier(message) && seen.add(at + message)) {
        problem(at, message);
      }
    }
    if (diags.isEmpty()) {
      problem(
          place(cell, piece.offset()),
          "\"" + firstLine(piece.text()) + "\" is not Java that a cell can hold. "
              + "Expected a declaration, an expression or a statement");
    }
    failedSources.append(piece.text()).append('\n');
  }

  /** A name is missing because the statement that defines it was refused: told once is enough. */
  private boolean followsFromEarlier(String message) {
    Matcher missing = MISSING.matcher(message);
    return missing.find()
        && Pattern.compile("\\b" + missing.group(1) + "\\s*(=|\\(|\\{|<)")
            .matcher(failedSources)
            .find();
  }

  private String whereDefined(String missing) {
    Matcher name = Pattern.compile("^\\w+ (\\w+)").matcher(missing);
    Place place = name.find() ? definedAt.get(name.group(1)) : null;
    return place == null
        ? "which nothing defines. Define it in a cell above"
        : "which " + place + " defines after it. Move that definition above";
  }

  private static Statement.Kind kindOf(Snippet snippet) {
    return switch (snippet.kind()) {
      case VAR ->
        snippet.subKind() == SubKind.TEMP_VAR_EXPRESSION_SUBKIND
            ? Statement.Kind.EXPRESSION
            : Statement.Kind.VARIABLE;
      case METHOD -> Statement.Kind.METHOD;
      case TYPE_DECL -> Statement.Kind.TYPE;
      case IMPORT -> Statement.Kind.IMPORT;
      case EXPRESSION -> Statement.Kind.EXPRESSION;
      default -> Statement.Kind.STATEMENT;
    };
  }

  private static String nameOf(Snippet snippet) {
    return snippet instanceof DeclarationSnippet d
            && snippet.kind() != Snippet.Kind.IMPORT
            && snippet.subKind() != SubKind.TEMP_VAR_EXPRESSION_SUBKIND
        ? d.name()
        : "";
  }

  private Place place(Block.Cell cell, int offset) {
    return new Place(cell.name(), cell.content().firstLine() - 1 + lineIn(cell.source(), offset));
  }

  private static int lineIn(String source, int offset) {
    int line = 1;
    for (int i = 0; i < Math.min(offset, source.length()); i++) {
      if (source.charAt(i) == '\n') {
        line++;
      }
    }
    return line;
  }

  private static String firstLine(String text) {
    int end = text.indexOf('\n');
    return end < 0 ? text : text.substring(0, end);
  }

  private void problem(Place place, String message) {
    problems.add(
        new Problem(Problem.Kind.COMPILE, document.file(), place.line(), place.cell(), message));
  }
}
