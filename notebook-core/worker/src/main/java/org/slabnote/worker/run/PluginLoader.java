package org.slabnote.worker.run;

import java.io.IOException;
import java.net.URL;
import java.security.ProtectionDomain;
import java.util.Collections;
import java.util.Enumeration;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Loads the classes of one third party's plugin, apart from every other plugin.
 *
 * <p>It sees the JDK, {@code org.slabnote.api}, {@code org.slabnote.methods}, and its own jars;
 * behind them Commons Math and Tablesaw as cells have them, so a plugin that brings a version of its
 * own uses that, for its private use. Nothing else of Slabnote, of the bundled plugins and of other
 * plugins is there.
 */
final class PluginLoader extends ClassLoader {
  /** Each is named so, with the plugin's id behind: stack traces tell whose code is at work. */
  static final String NAME = "plugin ";

  private static final List<String> SHARED = List.of("org.slabnote.api.", "org.slabnote.methods.");
  private static final List<String> BEHIND = List.of("org.apache.commons.math3.", "tech.tablesaw.");
  private static final String OURS = "org.slabnote.";

  static {
    registerAsParallelCapable();
  }

  private final PluginCode code;
  private final ClassLoader host;

  /**
   * Makes a loader.
   *
   * @param host finds the API and what cells may use
   */
  PluginLoader(PluginCode code, ClassLoader host) {
    super(NAME + code.plugin().id(), ClassLoader.getPlatformClassLoader());
    this.code = code;
    this.host = host;
  }

  /** Returns whether a class, or a class file's name with dots, is one that all plugins share. */
  static boolean isShared(String name) {
    return SHARED.stream().anyMatch(name::startsWith);
  }

  PluginCode code() {
    return code;
  }

  /** Returns a loader of the same code that shares no class with this one, so no static state. */
  PluginLoader fresh() {
    return new PluginLoader(code, host);
  }

  @Override
  protected Class<?> loadClass(String name, boolean resolve) throws ClassNotFoundException {
    if (isShared(name)) {
      return host.loadClass(name);
    }
    try {
      return getParent().loadClass(name);
    } catch (ClassNotFoundException e) {
      Class<?> own = ownClass(name);
      if (own != null) {
        return own;
      }
      if (BEHIND.stream().anyMatch(name::startsWith)) {
        return host.loadClass(name);
      }
      throw e;
    }
  }

  /** Returns one of the plugin's own classes, nothing where its jars have none of the name. */
  @Nullable
  Class<?> ownClass(String name) {
    if (isShared(name) || name.startsWith(OURS) || name.startsWith("java.")) {
      return null;
    }
    synchronized (getClassLoadingLock(name)) {
      Class<?> loaded = findLoadedClass(name);
      return loaded != null ? loaded : own(name);
    }
  }

  private @Nullable Class<?> own(String name) {
    Optional<PluginCode.Found> found;
    try {
      found = code.find(name.replace('.', '/') + ".class");
    } catch (IOException e) {
      throw new LinkageError(name + " cannot be read from the jar: " + e.getMessage(), e);
    }
    return found
        .<Class<?>>map(one -> defineClass(
            name,
            one.bytes(),
            0,
            one.bytes().length,
            new ProtectionDomain(one.source(), null, this, null)))
        .orElse(null);
  }

  @Override
  protected @Nullable URL findResource(String name) {
    List<URL> places = code.places(name);
    return places.isEmpty() ? null : places.get(0);
  }

  @Override
  protected Enumeration<URL> findResources(String name) {
    return Collections.enumeration(code.places(name));
  }
}
