package org.slabnote.engine.run;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Arrays;
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
 */
final class RememberedCells {
  private static final int DIGEST = 32;

  private final Toolbox toolbox;
  private final Path folder;

  RememberedCells(Toolbox toolbox, Path cache) {
    this.toolbox = toolbox;
    this.folder = cache.resolve("cells");
  }

  Compiled compile(Document document) throws BadInput {
    Path entry = folder.resolve(key(document));
    Compiled remembered = read(entry);
    if (remembered != null) {
      return remembered;
    }
    Compiled compiled = new CellCompiler(toolbox.cellPath(), toolbox.imports()).compile(document);
    write(entry, CompiledCodec.encode(compiled));
    return compiled;
  }

  private String key(Document document) {
    StringBuilder key = new StringBuilder(toolbox.compileDigest());
    for (Block.Cell cell : document.cells()) {
      key.append('\n').append(cell.name()).append('\n').append(cell.source());
    }
    return Canonical.sha256(key.toString().getBytes(StandardCharsets.UTF_8));
  }

  private static @org.jspecify.annotations.Nullable Compiled read(Path entry) {
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
