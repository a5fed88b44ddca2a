package org.slabnote.engine.compiler;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;

/**
 * Compiled cells as bytes, for remembering them.
 *
 * @since 0.1
 */
public final class CompiledCodec {
  private static final int FORMAT = 0x534e_4306;

  private CompiledCodec() {}

  /** The bytes of compiled cells. */
  public static byte[] encode(Compiled compiled) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (DataOutputStream out = new DataOutputStream(bytes)) {
      out.writeInt(FORMAT);
      out.writeInt(compiled.statements().size());
      for (Statement one : compiled.statements()) {
        out.writeUTF(one.cell());
        out.writeInt(one.line());
        text(out, one.source());
        out.writeUTF(one.kind().name());
        out.writeUTF(one.defines());
        out.writeUTF(one.type());
        out.writeUTF(one.wrapper());
        out.writeUTF(one.method());
        names(out, one.reads());
        names(out, one.writes());
      }
      out.writeInt(compiled.classes().size());
      for (CompiledClass one : compiled.classes()) {
        out.writeUTF(one.name());
        out.writeUTF(one.cell());
        out.writeInt(one.statement());
        out.writeInt(one.bytes().length);
        out.write(one.bytes());
      }
    } catch (IOException e) {
      throw new IllegalStateException("writing to memory", e);
    }
    return bytes.toByteArray();
  }

  /**
   * The compiled cells of bytes.
   *
   * @throws IOException if the bytes are not what {@link #encode} makes
   */
  public static Compiled decode(byte[] bytes) throws IOException {
    try (DataInputStream in = new DataInputStream(new ByteArrayInputStream(bytes))) {
      if (in.readInt() != FORMAT) {
        throw new IOException("not compiled cells of this format");
      }
      List<Statement> statements = new ArrayList<>();
      for (int n = in.readInt(); n > 0; n--) {
        statements.add(new Statement(
            in.readUTF(),
            in.readInt(),
            text(in),
            Statement.Kind.valueOf(in.readUTF()),
            in.readUTF(),
            in.readUTF(),
            in.readUTF(),
            in.readUTF(),
            names(in),
            names(in)));
      }
      List<CompiledClass> classes = new ArrayList<>();
      for (int n = in.readInt(); n > 0; n--) {
        classes.add(new CompiledClass(
            in.readUTF(), in.readUTF(), in.readInt(), in.readNBytes(in.readInt())));
      }
      return new Compiled(statements, classes);
    } catch (IllegalArgumentException e) {
      throw new IOException("not compiled cells", e);
    }
  }

  private static void text(DataOutputStream out, String text) throws IOException {
    byte[] utf8 = text.getBytes(java.nio.charset.StandardCharsets.UTF_8);
    out.writeInt(utf8.length);
    out.write(utf8);
  }

  private static String text(DataInputStream in) throws IOException {
    return new String(in.readNBytes(in.readInt()), java.nio.charset.StandardCharsets.UTF_8);
  }

  private static void names(DataOutputStream out, SortedSet<String> names) throws IOException {
    out.writeInt(names.size());
    for (String name : names) {
      out.writeUTF(name);
    }
  }

  private static SortedSet<String> names(DataInputStream in) throws IOException {
    SortedSet<String> names = new TreeSet<>();
    for (int n = in.readInt(); n > 0; n--) {
      names.add(in.readUTF());
    }
    return names;
  }
}
