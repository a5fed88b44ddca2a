package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.ServiceConfigurationError;
import java.util.ServiceLoader;
import org.slabnote.api.Op;
import org.slabnote.api.Operations;
import org.slabnote.api.Plugin;
import org.slabnote.api.ScanFormat;
import org.slabnote.api.quantity.Units;
import org.slabnote.worker.RunOutcome.PluginFact;
import org.slabnote.worker.RunOutcome.SetAside;

/** The plugins on the class path: checked as they load, those that do not serve named and set aside. */
final class Plugins {
  /** Two plugins, operations or formats of one id, or no plugin at all. */
  static final class Clash extends RuntimeException {
    private static final long serialVersionUID = 1L;

    Clash(String message) {
      super(message);
    }
  }

  private final List<Plugin> loaded = new ArrayList<>();
  private final List<SetAside> setAside = new ArrayList<>();
  private final Map<Class<?>, String> ownerOf = new HashMap<>();
  private final Map<String, ScanFormat> formats = new HashMap<>();

  private Plugins() {}

  /**
   * Loads the plugins that a class loader finds.
   *
   * @throws Clash if there is none, or two things share an id
   */
  static Plugins load(ClassLoader loader) {
    Plugins plugins = new Plugins();
    Iterator<ServiceLoader.Provider<Plugin>> found =
        ServiceLoader.load(Plugin.class, loader).stream().iterator();
    while (plugins.next(found)) {
      continue; // each is taken or set aside
    }
    plugins.loaded.sort(Comparator.comparing(Plugin::id));
    plugins.checkIds();
    if (plugins.loaded.isEmpty()) {
      throw new Clash("no plugin could be loaded"
          + (plugins.setAside.isEmpty() ? "" : " (" + plugins.setAside.get(0).cause() + ")")
          + "; expected at least one on the class path of the worker. Install Slabnote again");
    }
    return plugins;
  }

  private boolean next(Iterator<ServiceLoader.Provider<Plugin>> found) {
    String name = "";
    try {
      if (!found.hasNext()) {
        return false;
      }
      ServiceLoader.Provider<Plugin> provider = found.next();
      name = provider.type().getName();
      Plugin plugin = provider.get();
      check(plugin);
      loaded.add(plugin);
    } catch (ServiceConfigurationError | LinkageError | RuntimeException e) {
      Throwable cause =
          e instanceof ServiceConfigurationError && e.getCause() != null ? e.getCause() : e;
      setAside.add(new SetAside(name, describe(e, cause)));
    }
    return true;
  }

  private static String describe(Throwable e, Throwable cause) {
    String what = String.valueOf(e.getMessage());
    return cause == e || cause.getMessage() == null
        ? what
        : what + ": " + cause.getClass().getSimpleName() + ": " + cause.getMessage();
  }

  private static void check(Plugin plugin) {
    String id = plugin.id();
    if (!id.matches("[a-z][a-z0-9-]*")) {
      throw new IllegalArgumentException(
          "plugin id '" + id + "'; expected lower-case letters, digits and -, a letter first");
    }
    for (Class<?> type : plugin.operations()) {
      Op op = Operations.describe(type);
      checkPrefix(id, op.id());
      for (Operations.Component c : Operations.components(type)) {
        c.param().ifPresent(param -> {
          Units.bound(param.from());
          Units.bound(param.to());
        });
      }
    }
    for (ScanFormat format : plugin.scanFormats()) {
      checkPrefix(id, format.id());
    }
  }

  private static void checkPrefix(String plugin, String id) {
    if (!id.startsWith(plugin + ".")) {
      throw new IllegalArgumentException("plugin " + plugin + " offers " + id
          + "; expected an id that begins with " + plugin + ".");
    }
  }

  private void checkIds() {
    Map<String, Object> seen = new HashMap<>();
    for (Plugin plugin : loaded) {
      once(seen, "plugin " + plugin.id(), plugin.getClass());
      for (Class<?> type : plugin.operations()) {
        once(seen, "operation " + Operations.describe(type).id(), type);
        ownerOf.put(type, plugin.id());
      }
      for (ScanFormat format : plugin.scanFormats()) {
        once(seen, "format " + format.id(), format.getClass());
        formats.put(format.id(), format);
      }
    }
  }

  private static void once(Map<String, Object> seen, String id, Class<?> type) {
    Object before = seen.put(id, type);
    if (before != null) {
      throw new Clash(id + " is there twice: " + place((Class<?>) before) + " and " + place(type)
          + ". Remove one of the two");
    }
  }

  private static String place(Class<?> type) {
    return type.getName() + " in " + Implementations.home(type).getFileName();
  }

  /** Returns the plugin that offers an operation. */
  Optional<String> ownerOf(Class<?> operation) {
    return Optional.ofNullable(ownerOf.get(operation));
  }

  /** Returns the formats, in order of id. */
  List<ScanFormat> formats() {
    return formats.values().stream()
        .sorted(Comparator.comparing(ScanFormat::id))
        .toList();
  }

  List<SetAside> setAside() {
    return setAside;
  }

  List<PluginFact> facts(Implementations implementations) {
    List<PluginFact> facts = new ArrayList<>();
    for (Plugin plugin : loaded) {
      Class<?> type = plugin.getClass();
      String version = type.getPackage().getImplementationVersion();
      facts.add(new PluginFact(
          plugin.id(),
          String.valueOf(Implementations.home(type).getFileName()),
          version == null ? "" : version,
          implementations.own(type)));
    }
    return facts;
  }
}
