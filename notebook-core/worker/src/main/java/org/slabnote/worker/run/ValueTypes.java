package org.slabnote.worker.run;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Finds the types of a value that a plugin gave or is to be given: first the classes of that plugin,
 * exported or not, then what cells see, then those of any other plugin.
 */
final class ValueTypes extends ClassLoader {
  private final List<PluginLoader> first;
  private final ClassLoader cells;
  private final List<PluginLoader> others;

  ValueTypes(List<PluginLoader> first, ClassLoader cells, List<PluginLoader> others) {
    super("values", null);
    this.first = List.copyOf(first);
    this.cells = cells;
    this.others = List.copyOf(others);
  }

  @Override
  protected Class<?> loadClass(String name, boolean resolve) throws ClassNotFoundException {
    Class<?> own = own(first, name);
    if (own != null) {
      return own;
    }
    try {
      return cells.loadClass(name);
    } catch (ClassNotFoundException e) {
      Class<?> other = own(others, name);
      if (other != null) {
        return other;
      }
      throw e;
    }
  }

  private static @Nullable Class<?> own(List<PluginLoader> loaders, String name) {
    for (PluginLoader loader : loaders) {
      Class<?> found = loader.ownClass(name);
      if (found != null) {
        return found;
      }
    }
    return null;
  }
}
