package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.Iterator;
import java.util.LinkedHashMap;
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
import org.slabnote.worker.PluginJars;
import org.slabnote.worker.RunOutcome.PluginFact;
import org.slabnote.worker.RunOutcome.SetAside;

/**
 * The plugins of a run: the bundled ones on the class path, and those of third parties, each in a
 * loader of its own. Checked as they load; those that do not serve are named and set aside.
 */
final class Plugins implements AutoCloseable {
  /** Two plugins, operations, formats or exported packages of one name, or no plugin at all. */
  static final class Clash extends RuntimeException {
    private static final long serialVersionUID = 1L;

    Clash(String message) {
      super(message);
    }
  }

  /**
   * A plugin, as it described itself when it was loaded: it is not asked again.
   *
   * @param loader its loader; empty for a bundled one
   */
  record Loaded(
      Plugin plugin,
      String id,
      List<Class<?>> operations,
      List<ScanFormat> formats,
      List<String> exported,
      Optional<PluginLoader> loader) {
    /** Asks a plugin what it is. */
    static Loaded of(Plugin plugin, Optional<PluginLoader> loader) {
      return new Loaded(
          plugin,
          plugin.id(),
          List.copyOf(plugin.operations()),
          List.copyOf(plugin.scanFormats()),
          List.copyOf(plugin.exportedPackages()),
          loader);
    }

    /** Returns how messages name it. */
    String title() {
      return loader.map(l -> l.code().plugin().title()).orElse("plugin " + id);
    }

    private String place() {
      return loader
          .map(l -> l.code().plugin().own().name())
          .orElseGet(() -> plugin.getClass().getName() + " in "
              + Implementations.home(plugin.getClass()).getFileName());
    }
  }

  private final List<Loaded> loaded = new ArrayList<>();
  private final List<SetAside> setAside = new ArrayList<>();
  private final Map<Class<?>, Loaded> ownerOf = new HashMap<>();
  private final Map<String, PluginLoader> exported = new HashMap<>();
  private final List<PluginCode> open = new ArrayList<>();

  private Plugins() {}

  /**
   * Loads the plugins that a class loader finds, and those of third parties.
   *
   * @throws Clash if there is none, or two things share a name
   */
  static Plugins load(ClassLoader loader, List<PluginJars> others) {
    Plugins plugins = new Plugins();
    Iterator<ServiceLoader.Provider<Plugin>> found =
        ServiceLoader.load(Plugin.class, loader).stream().iterator();
    while (plugins.next(found)) {
      continue; // each is taken or set aside
    }
    for (PluginJars other : others) {
      plugins.add(other, loader);
    }
    plugins.loaded.sort(Comparator.comparing(Loaded::id));
    plugins.checkNames();
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
      Loaded plugin = Loaded.of(provider.get(), Optional.empty());
      check(plugin);
      loaded.add(plugin);
    } catch (ServiceConfigurationError | LinkageError | RuntimeException e) {
      setAside.add(new SetAside(name, describe(e)));
    }
    return true;
  }

  private void add(PluginJars other, ClassLoader host) {
    try {
      Loaded plugin = load(other, host);
      open.add(plugin.loader().orElseThrow().code());
      loaded.add(plugin);
    } catch (Unfit e) {
      setAside.add(new SetAside(other.title(), String.valueOf(e.getMessage())));
    }
  }

  /** A plugin that cannot be used; the message says why, in words. */
  static final class Unfit extends Exception {
    private static final long serialVersionUID = 1L;

    Unfit(String message, Throwable cause) {
      super(message, cause);
    }
  }

  /**
   * Loads a third party's plugin.
   *
   * @throws Unfit if it cannot be used
   */
  static Loaded load(PluginJars jars, ClassLoader host) throws Unfit {
    PluginCode code;
    try {
      code = PluginCode.open(jars);
    } catch (IllegalArgumentException e) {
      throw new Unfit(String.valueOf(e.getMessage()), e);
    }
    try {
      PluginLoader loader = new PluginLoader(code, host);
      Loaded plugin = Loaded.of(provider(loader), Optional.of(loader));
      if (!jars.id().isEmpty() && !jars.id().equals(plugin.id())) {
        throw new IllegalArgumentException(
            "its id is " + plugin.id() + "; expected " + jars.id() + ", as it is pinned");
      }
      check(plugin);
      ThirdPartyRules.check(plugin, code);
      return plugin;
    } catch (ServiceConfigurationError | LinkageError | RuntimeException e) {
      code.close();
      throw new Unfit(LoadFailure.words(e), e);
    }
  }

  /** Returns a plugin anew, of classes that another loader made of the same code. */
  static Loaded loadAgain(Loaded plugin, PluginLoader fresh) {
    try {
      return Loaded.of(provider(fresh), Optional.of(fresh));
    } catch (ServiceConfigurationError e) {
      throw new PluginFault("it cannot be loaded a second time: " + LoadFailure.words(e), e);
    }
  }

  private static Plugin provider(PluginLoader loader) {
    List<ServiceLoader.Provider<Plugin>> found =
        ServiceLoader.load(Plugin.class, loader).stream().toList();
    if (found.size() != 1) {
      throw new IllegalArgumentException((found.isEmpty()
              ? "it offers no plugin"
              : "it offers " + found.size() + " plugins, " + found.get(0).type().getName() + " and "
                  + found.get(1).type().getName())
          + "; expected one class named in META-INF/services/org.slabnote.api.Plugin");
    }
    return found.get(0).get();
  }

  private static String describe(Throwable e) {
    Throwable cause =
        e instanceof ServiceConfigurationError && e.getCause() != null ? e.getCause() : e;
    String what = String.valueOf(e.getMessage());
    return cause == e || cause.getMessage() == null
        ? what
        : what + ": " + cause.getClass().getSimpleName() + ": " + cause.getMessage();
  }

  private static void check(Loaded plugin) {
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
    for (ScanFormat format : plugin.formats()) {
      checkPrefix(id, format.id());
    }
  }

  private static void checkPrefix(String plugin, String id) {
    if (!id.startsWith(plugin + ".")) {
      throw new IllegalArgumentException("plugin " + plugin + " offers " + id
          + "; expected an id that begins with " + plugin + " and a dot");
    }
  }

  private void checkNames() {
    Map<String, String> seen = new HashMap<>();
    for (Loaded plugin : loaded) {
      once(seen, "plugin " + plugin.id(), plugin.place());
      for (Class<?> type : plugin.operations()) {
        once(seen, "operation " + Operations.describe(type).id(), place(plugin, type));
        ownerOf.put(type, plugin);
      }
      for (ScanFormat format : plugin.formats()) {
        once(seen, "format " + format.id(), place(plugin, format.getClass()));
      }
      for (String name : plugin.exported()) {
        once(seen, "exported package " + name, plugin.place());
        plugin.loader().ifPresent(loader -> exported.put(name, loader));
      }
    }
  }

  private static void once(Map<String, String> seen, String id, String place) {
    String before = seen.put(id, place);
    if (before != null) {
      throw new Clash(
          id + " is there twice: " + before + " and " + place + ". Remove one of the two");
    }
  }

  private static String place(Loaded plugin, Class<?> type) {
    return type.getName() + " in "
        + plugin
            .loader()
            .map(l -> l.code().plugin().own().name())
            .orElseGet(() -> String.valueOf(Implementations.home(type).getFileName()));
  }

  /** Returns the plugin that offers an operation. */
  Optional<String> ownerOf(Class<?> operation) {
    return Optional.ofNullable(ownerOf.get(operation)).map(Loaded::id);
  }

  /** Returns the third party's plugin whose code a class is of; nothing for any other class. */
  Optional<Loaded> thirdParty(Class<?> type) {
    return type.getClassLoader() instanceof PluginLoader loader
        ? loaded.stream()
            .filter(one -> one.loader().filter(loader::equals).isPresent())
            .findFirst()
        : Optional.empty();
  }

  /** Returns a third party's plugin; nothing for a bundled one or an id that is not there. */
  Optional<Loaded> thirdParty(String id) {
    return loaded.stream()
        .filter(one -> one.id().equals(id) && one.loader().isPresent())
        .findFirst();
  }

  /** Returns the third parties' plugins, in order of id. */
  List<Loaded> thirdParties() {
    return loaded.stream().filter(one -> one.loader().isPresent()).toList();
  }

  /** Returns the loader of each package that a third party exports to cells. */
  Map<String, PluginLoader> exported() {
    return new LinkedHashMap<>(exported);
  }

  /** Returns the formats: the bundled ones in order of id, then those of third parties. */
  List<ScanFormat> formats() {
    List<ScanFormat> formats = new ArrayList<>();
    loaded.forEach(one -> formats.addAll(one.formats()));
    formats.sort(Comparator.comparing((ScanFormat f) -> thirdParty(f.getClass()).isPresent())
        .thenComparing(ScanFormat::id));
    return formats;
  }

  List<SetAside> setAside() {
    return setAside;
  }

  List<PluginFact> facts(Implementations implementations) {
    List<PluginFact> facts = new ArrayList<>();
    for (Loaded plugin : loaded) {
      facts.add(plugin.loader().map(Plugins::fact).orElseGet(() -> fact(plugin, implementations)));
    }
    return facts;
  }

  private static PluginFact fact(PluginLoader loader) {
    PluginJars jars = loader.code().plugin();
    return new PluginFact(
        jars.id(), jars.own().name(), jars.version(), jars.own().sha256());
  }

  private static PluginFact fact(Loaded plugin, Implementations implementations) {
    Class<?> type = plugin.plugin().getClass();
    String version = type.getPackage().getImplementationVersion();
    return new PluginFact(
        plugin.id(),
        String.valueOf(Implementations.home(type).getFileName()),
        version == null ? "" : version,
        implementations.own(type));
  }

  /** Closes the jars of third parties. */
  @Override
  public void close() {
    open.forEach(PluginCode::close);
  }
}
