package org.slabnote.engine.run;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.compiler.CellCompiler;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.compiler.CompiledCodec;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.worker.store.Store;

/**
 * Compiles cells, or remembers them: by their texts, the class path, the imports and the Java at work.
 *
 * <p>What is remembered is gated again like what was just compiled. A damaged entry counts as none.
 * The compiler is kept, and with it the cells before the next edit. Any thread.
 */
final class RememberedCells implements AutoCloseable {
  /** A notebook's cells take some hundred kilobytes; those used longest ago go first. */
  static final long MOST_BYTES = 64_000_000;

  private final Store remembered;
  private @Nullable CellCompiler compiler;
  private String compilerFor = "";

  RememberedCells(Path cache) {
    remembered = of(cache);
  }

  /** The store of compiled cells in a cache folder. */
  static Store of(Path cache) {
    return Store.of(cache.resolve("cells"), "cells-1");
  }

  Compiled compile(Toolbox toolbox, Document document) throws BadInput {
    String tools = toolbox.compileDigest();
    String key = key(tools, document);
    Compiled before = read(key);
    if (before != null) {
      return before;
    }
    Compiled compiled = compiler(toolbox, tools).compile(document);
    write(key, CompiledCodec.encode(compiled));
    return compiled;
  }

  /** Compiles what is remembered, so that the next edit finds a compiler that knows the rest. */
  void makeReady(Toolbox toolbox, Document document) throws BadInput {
    compiler(toolbox, toolbox.compileDigest()).compile(document);
  }

  private synchronized CellCompiler compiler(Toolbox toolbox, String tools) {
    CellCompiler now = compiler;
    if (now == null || !compilerFor.equals(tools)) {
      close();
      now = new CellCompiler(toolbox.cellPath(), toolbox.imports());
      compiler = now;
      compilerFor = tools;
    }
    return now;
  }

  @Override
  public synchronized void close() {
    if (compiler != null) {
      compiler.close();
    }
    compiler = null;
  }

  private static String key(String tools, Document document) {
    StringBuilder key = new StringBuilder(tools);
    for (Block.Cell cell : document.cells()) {
      key.append('\n').append(cell.name()).append('\n').append(cell.source());
    }
    return Canonical.sha256(key.toString().getBytes(StandardCharsets.UTF_8));
  }

  private @Nullable Compiled read(String key) {
    return remembered
        .digestOf(key)
        .flatMap(remembered::bytes)
        .flatMap(RememberedCells::decoded)
        .orElse(null);
  }

  private static Optional<Compiled> decoded(byte[] bytes) {
    try {
      return Optional.of(CompiledCodec.decode(bytes));
    } catch (IOException e) {
      return Optional.empty(); // of another version: compile
    }
  }

  private void write(String key, byte[] content) {
    try {
      remembered.put(key, Canonical.sha256(content), content);
      remembered.tidy(MOST_BYTES);
    } catch (IOException e) {
      return; // remembering saves time only: a full or closed cache folder stops nothing
    }
  }
}
