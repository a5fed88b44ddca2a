package org.slabnote.engine.gate;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.compiler.CompiledClass;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * Lets the compiled cells through, or says what they may not refer to, why, and what to use.
 *
 * @since 0.1
 */
public final class Gate {
  private static final List<String> HIDDEN = List.of(
      "java.io",
      "java.nio.file",
      "java.nio.channels",
      "java.time",
      "java.net",
      "java.net.http",
      "java.util.concurrent",
      "java.lang.reflect",
      "java.lang.invoke",
      "java.security");

  private final List<Path> classPath;
  private final AllowList allowList;

  /**
   * Opens the list of what is allowed.
   *
   * @param classPath where the types that cells name are found
   * @param exportedPackages packages of the loaded plugins that cells may use
   */
  public Gate(List<Path> classPath, Collection<String> exportedPackages) {
    this.classPath = List.copyOf(classPath);
    this.allowList = AllowList.standard(exportedPackages);
  }

  /**
   * Reads every class of the cells.
   *
   * @param compiled what came out of the compiler, or was remembered from an earlier run
   * @param document the notebook, for the lines
   * @throws BadInput with each refusal: cell, line in the file, what, why, and what to use instead
   */
  public void check(Compiled compiled, Document document) throws BadInput {
    List<Problem> problems = new ArrayList<>();
    try (ClassWorld world = new ClassWorld(classPath)) {
      new Reading(compiled, document, world, problems).read();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    if (!problems.isEmpty()) {
      problems.sort(Comparator.comparingInt(Problem::line));
      throw new BadInput(oncePerReason(problems));
    }
  }

  /** One reading of all classes. */
  private final class Reading {
    private final Compiled compiled;
    private final Document document;
    private final ClassWorld world;
    private final List<Problem> problems;
    private final Map<CompiledClass, ClassNode> nodes = new LinkedHashMap<>();
    private final Map<String, ClassNode> cells = new LinkedHashMap<>();
    private final Texts texts;

    Reading(Compiled compiled, Document document, ClassWorld world, List<Problem> problems) {
      this.compiled = compiled;
      this.document = document;
      this.world = world;
      this.problems = problems;
      this.texts = new Texts(allowList, world);
    }

    void read() {
      compiled.classes().forEach(one -> guarded(one, "is no class file", () -> add(one)));
      each((one, node) -> texts.add(node));
      each((one, node) -> texts.addHeld(node, cells));
      each((one, node) -> {
        int line = compiled.statements().get(one.statement()).line();
        Refusals refusals = new Refusals(
            allowList, document.file(), one.cell(), firstLine(document, one.cell()), problems);
        new ClassCheck(allowList, world, refusals).check(node, line);
        new TextCheck(texts, world, cells, refusals).check(node, line);
      });
      if (problems.isEmpty()) {
        OperationCheck operations = new OperationCheck(compiled, nodes, world, document, problems);
        each((one, node) -> operations.check(node));
      }
    }

    private void add(CompiledClass one) {
      ClassNode node = new ClassNode();
      new ClassReader(one.bytes()).accept(node, 0);
      if (!node.name.replace('/', '.').equals(one.name())) {
        unknown(one, "calls itself " + node.name);
      } else if ((node.version & 0xffff) > Opcodes.V17 || node.superName == null) {
        unknown(one, "is made for another Java than 17");
      } else {
        world.add(node);
        nodes.put(one, node);
        cells.put(node.name, node);
      }
    }

    private interface Check {
      void of(CompiledClass one, ClassNode node) throws AnalyzerException;
    }

    private void each(Check check) {
      nodes.forEach(
          (one, node) -> guarded(one, "is no class file of a compiler", () -> check.of(one, node)));
    }

    private interface Guarded {
      void run() throws AnalyzerException;
    }

    /** What cannot be read is refused like anything unknown. */
    private void guarded(CompiledClass one, String what, Guarded reading) {
      try {
        reading.run();
      } catch (AnalyzerException
          | RuntimeException
          | AssertionError
          | StackOverflowError
          | OutOfMemoryError e) {
        unknown(one, what);
      }
    }

    private void unknown(CompiledClass one, String what) {
      int line = compiled.statements().get(one.statement()).line();
      problems.add(new Problem(
          Problem.Kind.REFUSED,
          document.file(),
          firstLine(document, one.cell()) + line - 1,
          one.cell(),
          "what was compiled as " + one.name() + " " + what
              + ", so nothing is known of it. Empty the cache folder and run again"));
    }
  }

  /** {@code Files} and {@code Path} of one line, refused for one reason, are told in one message. */
  private static List<Problem> oncePerReason(List<Problem> problems) {
    Map<String, Problem> told = new LinkedHashMap<>();
    for (Problem one : problems) {
      int named = Math.max(0, one.message().indexOf(Refusals.MAY_NOT));
      String name = one.message().substring(0, named);
      String reason = one.message().substring(named);
      told.merge(
          one.cell() + "/" + one.line() + reason,
          one,
          (before, now) -> new Problem(
              before.kind(),
              before.file(),
              before.line(),
              before.cell(),
              before.message().replace(reason, ", " + name + reason)));
    }
    return List.copyOf(told.values());
  }

  /**
   * What to say of a type that a cell names without an import, where it is one of the JDK that a cell
   * may not use anyway: a file, the clock, the network, threads.
   *
   * @param simpleName as the cell writes it
   * @return the refusal in words, without the place; empty for any other name
   */
  public Optional<String> refusalOf(String simpleName) {
    for (String packageName : HIDDEN) {
      String name = packageName + "." + simpleName;
      if (ClassLoader.getSystemResource(name.replace('.', '/') + ".class") != null
          && !allowList.allowsType(name)) {
        AllowList.Reason reason = allowList.reason(name);
        return Optional.of(name + Refusals.MAY_NOT + reason.why() + ". " + reason.instead());
      }
    }
    return Optional.empty();
  }

  static int firstLine(Document document, String cell) {
    return document
        .named(cell)
        .map(Block.Named::content)
        .map(span -> span.firstLine())
        .orElse(1);
  }
}
