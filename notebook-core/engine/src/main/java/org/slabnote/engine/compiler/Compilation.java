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

/** One pass over the cells: what was compiled so far or kept from before, and what was wrong. */
final class Compilation {
  private static final Pattern MISSING = Pattern.compile("cannot find symbol: \\w+ (\\w+)");

  /** A line within a cell, from 1. */
  private record Place(String cell, int line) {}

  /**
   * A cell that compiled, with all that it left in the shell.
   *
   * @param snippets its snippets, in order
   * @param definedAt where it defines a name
   * @param placeOfSnippet places of its snippets by their id
   * @param classNames names given to its classes, by those that JShell gave
   */
  record KeptCell(
      String name,
      String source,
      List<Statement> statements,
      List<CompiledClass> classes,
      List<Snippet> snippets,
      Map<String, Place> definedAt,
      Map<String, Place> placeOfSnippet,
      Map<String, String> classNames) {}

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
  private final ClassNames classNames = new ClassNames();
  private final StringBuilder failedSources = new StringBuilder();
  private final List<KeptCell> done = new ArrayList<>();
  private final Map<String, Integer> firstLines = new LinkedHashMap<>();
  private List<Snippet> snippets = new ArrayList<>();
  private int firstOfCell;
  private boolean tangled;

  /**
   * Begins.
   *
   * @param kept the first cells of the document, which the shell holds already
   */
  Compilation(JShell shell, ClassCatcher catcher, Document document, List<KeptCell> kept) {
    this.shell = shell;
    this.catcher = catcher;
    this.document = document;
    this.splitter = new Splitter(shell.sourceCodeAnalysis());
    document.cells().forEach(cell -> firstLines.put(cell.name(), cell.content().firstLine()));
    for (KeptCell cell : kept) {
      statements.addAll(cell.statements());
      classes.addAll(cell.classes());
      definedAt.putAll(cell.definedAt());
      placeOfSnippet.putAll(cell.placeOfSnippet());
      classNames.putAll(cell.classNames());
    }
  }

  /** Returns the cells that this pass compiled. */
  List<KeptCell> compiled() {
    return done;
  }

  /** Returns the cells that this pass compiled, up to the first with a problem. */
  List<KeptCell> good() {
    Set<String> bad = new HashSet<>();
    problems.forEach(problem -> bad.add(problem.cell()));
    unresolved.forEach(one -> bad.add(one.place().cell()));
    List<KeptCell> kept = new ArrayList<>();
    for (KeptCell cell : done) {
      if (bad.contains(cell.name())) {
        break;
      }
      kept.add(cell);
    }
    return kept;
  }

  void compile(Block.Cell cell) {
    int firstStatement = statements.size();
    int firstClass = classes.size();
    Set<String> names = new HashSet<>(definedAt.keySet());
    Set<String> ids = new HashSet<>(placeOfSnippet.keySet());
    snippets = new ArrayList<>();
    firstOfCell = firstStatement;
    compilePieces(cell);
    done.add(new KeptCell(
        cell.name(),
        cell.source(),
        List.copyOf(statements.subList(firstStatement, statements.size())),
        List.copyOf(classes.subList(firstClass, classes.size())),
        snippets,
        without(definedAt, names),
        without(placeOfSnippet, ids),
        classNames.given()));
  }

  private static Map<String, Place> without(Map<String, Place> places, Set<String> names) {
    Map<String, Place> rest = new LinkedHashMap<>(places);
    rest.keySet().removeAll(names);
    return rest;
  }

  private void compilePieces(Block.Cell cell) {
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
    return later == null || line(later) <= problem.line()
        ? problem
        : new Problem(
            problem.kind(),
            problem.file(),
            problem.line(),
            problem.cell(),
            problem.message() + ", which " + text(later)
                + " defines after it. Move that definition above");
  }

  private void statement(Block.Cell cell, Splitter.Piece piece) {
    Place place = place(cell, piece.offset());
    List<SnippetEvent> events = shell.eval(piece.text());
    Map<String, String> methods = catcher.takeMethods();
    for (SnippetEvent event : events) {
      if (event.causeSnippet() == null) {
        snippets.add(event.snippet());
      }
      if (tangled) {
        return;
      }
      if (event.causeSnippet() != null) {
        disturbed(place, event);
      } else if (!event.status().isDefined()) {
        rejected(cell, piece, event.snippet());
      } else {
        define(cell, place, piece, event, methods);
      }
    }
  }

  private void define(
      Block.Cell cell,
      Place place,
      Splitter.Piece piece,
      SnippetEvent event,
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
    String shells = wrapper.fullClassName();
    String top = classNames.name(shells, cell.name(), statements.size() - firstOfCell + 1);
    catcher.classes(shells).forEach((className, loaded) -> {
      byte[] named = classNames.rename(loaded);
      byte[] bytes = StrictRewriter.rewrite(named, cell.name(), lines::cellLine);
      classes.add(
          new CompiledClass(classNames.of(className), cell.name(), statements.size(), bytes));
    });
    String type = snippet instanceof VarSnippet v && !name.isEmpty() ? v.typeName() : "";
    add(cell, piece, kindOf(snippet), name, type, top, methods.getOrDefault(shells, ""));
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
        "the name " + name + " is defined already in " + text(before)
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
            + (earlier == null ? "an earlier cell" : text(earlier))
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
        : "which " + text(place) + " defines after it. Move that definition above";
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

  private static Place place(Block.Cell cell, int offset) {
    return new Place(cell.name(), lineIn(cell.source(), offset));
  }

  /** Returns the line in the document as it is now: a kept cell may have moved. */
  private int line(Place place) {
    return firstLines.getOrDefault(place.cell(), 1) - 1 + place.line();
  }

  private String text(Place place) {
    return "cell " + place.cell() + ", line " + line(place);
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
        new Problem(Problem.Kind.COMPILE, document.file(), line(place), place.cell(), message));
  }
}
