package org.slabnote.engine.compiler;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.NavigableMap;
import java.util.TreeMap;
import jdk.jshell.spi.ExecutionControl;
import jdk.jshell.spi.ExecutionControlProvider;
import jdk.jshell.spi.ExecutionEnv;

/**
 * Takes what JShell would run, and runs nothing.
 *
 * <p>No class is redefined, so a name stands for the same bytes as long as the shell lives; what was
 * loaded once, JShell does not load again when the same text comes back after it was dropped.
 */
final class ClassCatcher implements ExecutionControl {
  private final NavigableMap<String, byte[]> classes = new TreeMap<>();
  private final Map<String, String> methods = new LinkedHashMap<>();

  /** Returns a class and those nested in it, by binary name. */
  Map<String, byte[]> classes(String top) {
    Map<String, byte[]> found = new LinkedHashMap<>();
    for (Map.Entry<String, byte[]> one : classes.tailMap(top, true).entrySet()) {
      if (one.getKey().equals(top) || one.getKey().startsWith(top + "$")) {
        found.put(one.getKey(), one.getValue());
      } else if (!one.getKey().startsWith(top)) {
        break;
      }
    }
    return found;
  }

  /** The methods that would have been called since the last call, by binary name of the class. */
  Map<String, String> takeMethods() {
    Map<String, String> taken = new LinkedHashMap<>(methods);
    methods.clear();
    return taken;
  }

  ExecutionControlProvider provider() {
    return new ExecutionControlProvider() {
      @Override
      public String name() {
        return "slabnote-compile-only";
      }

      @Override
      public ExecutionControl generate(ExecutionEnv env, Map<String, String> parameters) {
        return ClassCatcher.this;
      }
    };
  }

  @Override
  public void load(ClassBytecodes[] cbcs) {
    for (ClassBytecodes one : cbcs) {
      classes.put(one.name(), one.bytecodes());
    }
  }

  @Override
  public void redefine(ClassBytecodes[] cbcs) throws NotImplementedException {
    throw new NotImplementedException("no class is redefined");
  }

  @Override
  public String invoke(String className, String methodName) {
    methods.put(className, methodName);
    return "";
  }

  @Override
  public String varValue(String className, String varName) {
    return "";
  }

  @Override
  public void addToClasspath(String path) {}

  @Override
  public void stop() {}

  @Override
  public Object extensionCommand(String command, Object arg) throws NotImplementedException {
    throw new NotImplementedException(command);
  }

  @Override
  public void close() {}
}
