package org.slabnote.api.codec;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.EOFException;
import java.io.IOException;
import java.lang.reflect.Constructor;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.RecordComponent;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Doubles;
import org.slabnote.api.Samples;

/**
 * The canonical encoding of immutable values: equal values, equal bytes, on every machine.
 *
 * <p>Values are records (of values), enums, strings, booleans, {@code int}, {@code long}, {@code
 * double}, {@link Samples}, {@link Doubles}, {@link Optional}, lists, and sorted maps with string or
 * enum keys in natural order. Anything else is refused with its path. NaN has one form; -0.0 and
 * 0.0 differ. Each part is a tag byte and its content, big-endian, lengths first.
 *
 * @since 0.1
 */
public final class Canonical {
  private static final int LIMIT = 1 << 30;
  private static final String NAN =
      "encoded value with a NaN of another form than the one there is";

  private Canonical() {}

  /**
   * Returns the bytes of a value.
   *
   * @throws IllegalArgumentException if some part is of a type that has no canonical form; the
   *     message gives its path and type
   */
  public static byte[] encode(Object value) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (DataOutputStream out = new DataOutputStream(bytes)) {
      write(value, out, value.getClass().getSimpleName());
    } catch (IOException e) {
      throw new IllegalStateException("writing to memory", e);
    }
    return bytes.toByteArray();
  }

  /** Returns the SHA-256 of the value's bytes, 64 lower-case hexadecimal digits. */
  public static String digest(Object value) {
    return sha256(encode(value));
  }

  /** Returns the SHA-256 of bytes, 64 lower-case hexadecimal digits. */
  public static String sha256(byte[] bytes) {
    try {
      return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every JDK has SHA-256", e);
    }
  }

  /**
   * Returns the value of bytes. Records pass through their constructors, so their checks hold.
   *
   * @param bytes bytes made by {@link #encode}
   * @param loader finds the record and enum types
   * @throws IllegalArgumentException if the bytes are no encoding, or a type is not found
   */
  public static Object decode(byte[] bytes, ClassLoader loader) {
    try (DataInputStream in = new DataInputStream(new ByteArrayInputStream(bytes))) {
      Object value = read(in, loader);
      if (in.read() >= 0) {
        throw new IllegalArgumentException(
            "encoded value of " + bytes.length + " bytes goes on after its end");
      }
      return value;
    } catch (EOFException e) {
      throw new IllegalArgumentException(
          "encoded value of " + bytes.length + " bytes ends early", e);
    } catch (IOException e) {
      throw new IllegalStateException("reading from memory", e);
    }
  }

  private static void write(Object value, DataOutputStream out, String path) throws IOException {
    if (value instanceof String s) {
      out.writeByte('S');
      text(out, s);
    } else if (value instanceof Double d) {
      out.writeByte('D');
      out.writeLong(Double.doubleToLongBits(d));
    } else if (value instanceof Integer i) {
      out.writeByte('I');
      out.writeInt(i);
    } else if (value instanceof Long l) {
      out.writeByte('J');
      out.writeLong(l);
    } else if (value instanceof Boolean b) {
      out.writeByte('B');
      out.writeBoolean(b);
    } else if (value instanceof Enum<?> e) {
      out.writeByte('E');
      text(out, e.getDeclaringClass().getName());
      text(out, e.name());
    } else if (value instanceof Samples s) {
      out.writeByte('F');
      numbers(s, out);
    } else if (value instanceof Doubles d) {
      out.writeByte('G');
      numbers(d, out);
    } else {
      writeComposite(value, out, path);
    }
  }

  private static void writeComposite(Object value, DataOutputStream out, String path)
      throws IOException {
    if (value instanceof Optional<?> o) {
      out.writeByte('O');
      out.writeBoolean(o.isPresent());
      if (o.isPresent()) {
        write(o.get(), out, path);
      }
    } else if (value instanceof List<?> list) {
      out.writeByte('L');
      out.writeInt(list.size());
      int i = 0;
      for (Object item : list) {
        write(item, out, path + "[" + i++ + "]");
      }
    } else if (value instanceof SortedMap<?, ?> map && (map.comparator() == null)) {
      out.writeByte('M');
      out.writeInt(map.size());
      for (Map.Entry<?, ?> e : map.entrySet()) {
        write(e.getKey(), out, path + " key");
        write(e.getValue(), out, path + "." + e.getKey());
      }
    } else if (value.getClass().isRecord()) {
      out.writeByte('R');
      text(out, value.getClass().getName());
      RecordComponent[] components = value.getClass().getRecordComponents();
      out.writeInt(components.length);
      for (RecordComponent c : components) {
        write(component(value, c), out, path + "." + c.getName());
      }
    } else {
      throw new IllegalArgumentException(
          path + ": a " + value.getClass().getName()
              + " has no canonical form; expected records, enums, text, numbers, Samples, Doubles, Optional, lists, sorted maps");
    }
  }

  private static Object component(Object value, RecordComponent c) {
    try {
      var accessor = c.getAccessor();
      accessor.setAccessible(true);
      return accessor.invoke(value);
    } catch (IllegalAccessException | InvocationTargetException e) {
      throw new IllegalStateException(
          value.getClass().getName() + "." + c.getName() + " cannot be read", e);
    }
  }

  private static void numbers(Samples samples, DataOutputStream out) throws IOException {
    ByteBuffer buffer = ByteBuffer.allocate(4 * samples.size());
    for (int i = 0; i < samples.size(); i++) {
      buffer.putInt(Float.floatToIntBits(samples.get(i)));
    }
    out.writeInt(samples.size());
    out.write(buffer.array());
  }

  private static void numbers(Doubles doubles, DataOutputStream out) throws IOException {
    ByteBuffer buffer = ByteBuffer.allocate(8 * doubles.size());
    for (int i = 0; i < doubles.size(); i++) {
      buffer.putLong(Double.doubleToLongBits(doubles.get(i)));
    }
    out.writeInt(doubles.size());
    out.write(buffer.array());
  }

  private static void text(DataOutputStream out, String s) throws IOException {
    byte[] utf8 = s.getBytes(StandardCharsets.UTF_8);
    out.writeInt(utf8.length);
    out.write(utf8);
  }

  private static Object read(DataInputStream in, ClassLoader loader) throws IOException {
    int tag = in.readUnsignedByte();
    return switch (tag) {
      case 'S' -> text(in);
      case 'D' -> Double.longBitsToDouble(oneNan(in.readLong()));
      case 'I' -> in.readInt();
      case 'J' -> in.readLong();
      case 'B' -> flag(in);
      case 'E' -> constant(text(in), text(in), loader);
      case 'F' -> samples(in);
      case 'G' -> doubles(in);
      case 'O' -> flag(in) ? Optional.of(read(in, loader)) : Optional.empty();
      case 'L' -> list(in, loader);
      case 'M' -> map(in, loader);
      case 'R' -> record(in, loader);
      default ->
        throw new IllegalArgumentException(
            "encoded value with tag " + tag + "; expected one of SDIJBEFGOLMR");
    };
  }

  private static int size(DataInputStream in, int unit) throws IOException {
    int n = in.readInt();
    if (n < 0 || n > LIMIT / unit || (long) n * unit > in.available()) {
      throw new IllegalArgumentException("encoded value states " + n + " items of " + unit
          + " bytes; " + in.available() + " bytes are left");
    }
    return n;
  }

  private static boolean flag(DataInputStream in) throws IOException {
    int value = in.readUnsignedByte();
    if (value > 1) {
      throw new IllegalArgumentException(
          "encoded value with a flag of " + value + "; expected 0 or 1");
    }
    return value == 1;
  }

  private static long oneNan(long bits) {
    if (Double.doubleToLongBits(Double.longBitsToDouble(bits)) != bits) {
      throw new IllegalArgumentException(NAN);
    }
    return bits;
  }

  private static String text(DataInputStream in) throws IOException {
    byte[] utf8 = in.readNBytes(size(in, 1));
    try {
      return StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(utf8)).toString();
    } catch (CharacterCodingException e) {
      throw new IllegalArgumentException("encoded value with text that is no UTF-8", e);
    }
  }

  private static Samples samples(DataInputStream in) throws IOException {
    int n = size(in, 4);
    float[] values = new float[n];
    ByteBuffer.wrap(in.readNBytes(4 * n)).asFloatBuffer().get(values);
    for (float value : values) {
      if (Float.floatToRawIntBits(value) != Float.floatToIntBits(value)) {
        throw new IllegalArgumentException(NAN);
      }
    }
    return Samples.of(values);
  }

  private static Doubles doubles(DataInputStream in) throws IOException {
    int n = size(in, 8);
    double[] values = new double[n];
    ByteBuffer.wrap(in.readNBytes(8 * n)).asDoubleBuffer().get(values);
    for (double value : values) {
      oneNan(Double.doubleToRawLongBits(value));
    }
    return Doubles.of(values);
  }

  private static List<Object> list(DataInputStream in, ClassLoader loader) throws IOException {
    int n = size(in, 1);
    List<Object> list = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      list.add(read(in, loader));
    }
    return List.copyOf(list);
  }

  private static SortedMap<Object, Object> map(DataInputStream in, ClassLoader loader)
      throws IOException {
    int n = size(in, 1);
    SortedMap<Object, Object> map = new TreeMap<>();
    for (int i = 0; i < n; i++) {
      Object key = read(in, loader);
      Object value = read(in, loader);
      boolean last;
      try {
        map.put(key, value);
        last = map.lastKey() == key;
      } catch (ClassCastException e) {
        throw new IllegalArgumentException("encoded map with keys that have no order", e);
      }
      if (!last) {
        throw new IllegalArgumentException(
            "encoded map with key " + key + " out of order; expected each key once, rising");
      }
    }
    return map;
  }

  private static Class<?> type(String name, ClassLoader loader) {
    try {
      return Class.forName(name, false, loader);
    } catch (ClassNotFoundException | LinkageError e) {
      throw new IllegalArgumentException(
          "encoded value of type " + name + ", which is not there", e);
    }
  }

  @SuppressWarnings({"unchecked", "rawtypes"})
  private static Object constant(String type, String name, ClassLoader loader) {
    Class<?> found = type(type, loader);
    if (!found.isEnum()) {
      throw new IllegalArgumentException(
          "encoded value names " + type + " as an enum, which it is not");
    }
    return Enum.valueOf((Class<? extends Enum>) found, name);
  }

  private static Object record(DataInputStream in, ClassLoader loader) throws IOException {
    String name = text(in);
    Class<?> found = type(name, loader);
    RecordComponent[] components = found.getRecordComponents();
    int n = in.readInt();
    if (components == null || components.length != n) {
      throw new IllegalArgumentException(
          "encoded value of record " + name + " with " + n + " components; "
              + (components == null ? "it is no record" : components.length + " are there"));
    }
    Class<?>[] types = new Class<?>[n];
    Object[] values = new Object[n];
    for (int i = 0; i < n; i++) {
      types[i] = components[i].getType();
      values[i] = read(in, loader);
    }
    try {
      Constructor<?> constructor = found.getDeclaredConstructor(types);
      constructor.setAccessible(true);
      return constructor.newInstance(values);
    } catch (InvocationTargetException e) {
      throw new IllegalArgumentException(
          "encoded value of record " + name + " is refused by it: "
              + e.getTargetException().getMessage(),
          e.getTargetException());
    } catch (ReflectiveOperationException e) {
      throw new IllegalArgumentException("encoded value of record " + name + " cannot be made", e);
    }
  }
}
