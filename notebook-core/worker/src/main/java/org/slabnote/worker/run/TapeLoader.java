package org.slabnote.worker.run;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.Map;
import java.util.Map.Entry;
import java.util.Objects;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.Tape;
import org.slabnote.worker.stop.StopPoint;

/** Loads the classes of the cells, fresh for each run. Cells do not see the worker. */
final class TapeLoader extends ClassLoader {
  private static final String OWN = "org.slabnote.worker.";
  private static final String STOP = StopPoint.class.getName();

  private final Map<String, PluginLoader> exported;
  private final Map<String, byte[]> bytes = new HashMap<>();
  private final Map<String, String> cellOf = new HashMap<>();
  private final Map<String, String> meanings = new HashMap<>();
  private final Map<Class<?>, String> digests = new HashMap<>();

  /**
   * Makes a loader.
   *
   * @param parent finds the API, the bundled plugins and the libraries of cells
   * @param exported loaders of the packages that plugins of third parties export; nothing else of
   *     these plugins is seen
   */
  TapeLoader(Tape tape, ClassLoader parent, Map<String, PluginLoader> exported) {
    super("cells", parent);
    this.exported = Map.copyOf(exported);
    for (Tape.CellClass one : tape.classes()) {
      bytes.put(one.name(), one.bytes());
      cellOf.put(one.name(), one.cell());
      meanings.put(one.name(), one.meaning());
    }
  }

  /**
   * Has every cell throw at its next stop point, on whatever thread.
   *
   * @param why what it throws, without a stack trace
   */
  void stop(Error why) {
    try {
      loadClass(STOP).getMethod("stop", Error.class).invoke(null, why);
    } catch (ReflectiveOperationException e) {
      throw new IllegalStateException("the cells' own " + STOP, e);
    }
  }

  /** A copy of their own, so that one run's stop is no other's. */
  private Class<?> stopPoint() throws ClassNotFoundException {
    synchronized (getClassLoadingLock(STOP)) {
      Class<?> loaded = findLoadedClass(STOP);
      if (loaded != null) {
        return loaded;
      }
      try (InputStream in = StopPoint.class.getResourceAsStream("StopPoint.class")) {
        byte[] own = Objects.requireNonNull(in, STOP).readAllBytes();
        return defineClass(STOP, own, 0, own.length);
      } catch (IOException e) {
        throw new ClassNotFoundException(STOP, e);
      }
    }
  }

  @Override
  protected Class<?> loadClass(String name, boolean resolve) throws ClassNotFoundException {
    if (name.equals(STOP)) {
      return stopPoint();
    }
    if (name.startsWith(OWN)) {
      throw new ClassNotFoundException(name + ": cells do not see the worker");
    }
    PluginLoader plugin = exported.get(name.substring(0, Math.max(0, name.lastIndexOf('.'))));
    return plugin == null ? super.loadClass(name, resolve) : plugin.loadClass(name);
  }

  @Override
  protected Class<?> findClass(String name) throws ClassNotFoundException {
    byte[] found = bytes.get(name);
    if (found == null) {
      throw new ClassNotFoundException(name);
    }
    return defineClass(name, found, 0, found.length);
  }

  /** Returns the cell that a class came from, nothing for any other class. */
  Optional<String> cellOf(String className) {
    @Nullable String cell = cellOf.get(className);
    return Optional.ofNullable(cell);
  }

  /**
   * Returns the digest of a cell's class and all classes of cells that it names, and so on: whatever
   * of the cells can change what it does.
   */
  String digest(Class<?> type) {
    return digests.computeIfAbsent(type, this::makeDigest);
  }

  private String makeDigest(Class<?> type) {
    String meaning = meanings.getOrDefault(type.getName(), "");
    if (!meaning.isEmpty()) {
      return meaning;
    }
    SortedMap<String, String> found = new TreeMap<>();
    Deque<String> open = new ArrayDeque<>();
    open.add(type.getName());
    while (!open.isEmpty()) {
      String name = open.remove();
      byte[] own = bytes.get(name);
      if (own == null || found.put(name, Canonical.sha256(own)) != null) {
        continue;
      }
      // Names stand in the constant pool as they are; a name that only begins alike does no harm.
      String pool = new String(own, StandardCharsets.ISO_8859_1);
      for (Entry<String, byte[]> other : bytes.entrySet()) {
        if (!found.containsKey(other.getKey()) && pool.contains(other.getKey().replace('.', '/'))) {
          open.add(other.getKey());
        }
      }
    }
    return Canonical.digest(found);
  }
}
