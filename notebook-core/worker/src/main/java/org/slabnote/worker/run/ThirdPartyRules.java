package org.slabnote.worker.run;

import java.lang.reflect.ParameterizedType;
import java.lang.reflect.Type;
import java.lang.reflect.TypeVariable;
import java.lang.reflect.WildcardType;
import java.util.HashSet;
import java.util.Set;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Operations;
import org.slabnote.api.ScanFormat;

/** What a third party's plugin must keep beyond what every plugin does, looked at as it loads. */
final class ThirdPartyRules {
  private ThirdPartyRules() {}

  static void check(Plugins.Loaded plugin, PluginCode code) {
    Set<String> ids = new HashSet<>();
    for (Class<?> type : plugin.operations()) {
      String id = Operations.describe(type).id();
      once(ids, id);
      checkOwn(id, type);
      checkResult(id, type);
    }
    for (ScanFormat format : plugin.formats()) {
      once(ids, format.id());
      checkOwn(format.id(), format.getClass());
    }
    for (String name : plugin.exported()) {
      if (name.isEmpty() || !holds(code, name)) {
        throw new IllegalArgumentException("it exports the package '" + name
            + "', which its jars do not have. Expected packages with classes of its own");
      }
    }
  }

  private static boolean holds(PluginCode code, String name) {
    return code.entries().anyMatch(entry -> entry.startsWith(name.replace('.', '/') + "/"));
  }

  private static void once(Set<String> ids, String id) {
    if (!ids.add(id)) {
      throw new IllegalArgumentException("it offers " + id + " twice; expected each id once");
    }
  }

  private static void checkOwn(String id, Class<?> type) {
    if (!(type.getClassLoader() instanceof PluginLoader)) {
      throw new IllegalArgumentException("it offers " + id + " by " + type.getName()
          + ", which is none of its own classes. Expected a class of its jar");
    }
  }

  /** The type of a result must be known, so that a value of another type is never handed on. */
  private static void checkResult(String id, Class<?> type) {
    boolean known = false;
    for (Type one : type.getGenericInterfaces()) {
      if (one == Operation.class || one == Filter.class) {
        throw new IllegalArgumentException(
            id + " does not say what it gives; expected Operation<...> or Filter<...> with a type");
      }
      if (one instanceof ParameterizedType p
          && (p.getRawType() == Operation.class || p.getRawType() == Filter.class)) {
        Type result = p.getActualTypeArguments()[0];
        if (result instanceof TypeVariable<?> || result instanceof WildcardType) {
          throw new IllegalArgumentException(
              id + " gives a " + result + "; expected a type, as in Operation<Table>");
        }
        known = true;
      }
    }
    if (!known) {
      throw new IllegalArgumentException(id
          + " is neither an Operation nor a Filter itself; expected a record that implements one");
    }
  }
}
