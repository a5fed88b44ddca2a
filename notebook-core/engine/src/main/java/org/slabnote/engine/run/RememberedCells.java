package org.slabnote.engine.run;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.compiler.CellCompiler;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.compiler.CompiledCodec;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.document.Document;
import org.slabnote.engine.problem.BadInput;

/**
 * Compiles cells, or remembers them: by their texts, the class path, the imports and the Java at work.
 *
 * <p>What is remembered is gated again like what was just compiled. A damaged entry counts as none.
 * The compiler is kept, and with it the cells before the next edit. Any thread.
 */
final class RememberedCells implements AutoCloseable {
  private static final int DIGEST = 32;

  private final Path folder;
  private @Nullable CellCompiler compiler;
  private String compilerFor = "";

  RememberedCells(Path cache) {
    this.folder = cache.resolve("cells");
  }

  Compiled compile(Toolbox toolbox, Document document) throws BadInput {
    String tools = toolbox.compileDigest();
    Path entry = folder.resolve(key(tools, document));
    Compiled remembered = read(entry);
    if (remembered != null) {
      return remembered;
    }
    Compiled compiled = compiler(toolbox, tools).compile(document);
    write(entry, CompiledCodec.encode(compiled));
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

  private static @Nullable Compiled read(Path entry) {
    try {
      byte[] bytes = Files.readAllBytes(entry);
      byte[] content = Arrays.copyOfRange(bytes, Math.min(DIGEST, bytes.length), bytes.length);
      if (bytes.length < DIGEST || !Arrays.equals(Arrays.copyOf(bytes, DIGEST), sha256(content))) {
        return null;
      }
      return CompiledCodec.decode(content);
    } catch (IOException e) {
      return null; // not there, or not whole: compile
    }
  }

  private void write(Path entry, byte[] content) {
    try {
      Files.createDirectories(folder);
      Path part = Files.createTempFile(folder, ".cells", ".part");
      try {
        byte[] whole = Arrays.copyOf(sha256(content), DIGEST + content.length);
        System.arraycopy(content, 0, whole, DIGEST, content.length);
        Files.write(part, whole);
        Files.move(part, entry, StandardCopyOption.REPLACE_EXISTING);
      } finally {
        Files.deleteIfExists(part);
      }
    } catch (IOException e) {
      return; // remembering saves time only: a full or closed cache folder stops nothing
    }
  }

  private static byte[] sha256(byte[] content) {
    return java.util.HexFormat.of().parseHex(Canonical.sha256(content));
  }
}
