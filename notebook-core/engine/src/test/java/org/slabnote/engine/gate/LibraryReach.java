package org.slabnote.engine.gate;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.jar.JarFile;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.TryCatchBlockNode;
import org.objectweb.asm.tree.TypeInsnNode;

/**
 * Walks a library from each member that a cell may call to what it calls in turn, and tells which reach
 * files, the network, threads, the clock, chance, reflection or the settings of the machine.
 *
 * <p>Calls are followed within the library, to every class that overrides what is called. What is
 * called outside of the library is judged by its name.
 */
final class LibraryReach {
  /** What no cell may reach, by the name of the member, and the word for it. */
  private static final Map<String, Pattern> SINKS = new LinkedHashMap<>();

  static {
    sink(
        "files",
        "java/io/(File|RandomAccess|Object|PrintStream|Console).*|java/nio/(file|channels)/.*"
            + "|.*Class\\.getResource.*|.*ClassLoader\\..*|java/util/jar/.*|java/util/zip/.*");
    sink("network", "java/net/.*|javax/net/.*|java/rmi/.*|java/sql/.*|javax/sql/.*");
    sink(
        "processes",
        "java/lang/(Runtime|Process\\w*)\\..*|java/lang/System\\.(exit|load\\w*|getenv"
            + "|getProperty|setProperty|getProperties|setOut|setErr|out|err|in)");
    sink(
        "threads",
        "java/lang/Thread\\w*\\..*|java/util/concurrent/(?!atomic|locks|TimeUnit"
            + "|ConcurrentHashMap).*|java/util/Timer.*|.*\\.parallel\\w*");
    sink(
        "clock",
        "java/lang/System\\.(currentTimeMillis|nanoTime)|java/time/.*\\.now"
            + "|java/util/(Date|GregorianCalendar)\\.<init>|java/util/Calendar\\.getInstance");
    sink(
        "chance",
        "java/lang/(Strict)?Math\\.random|java/util/Random\\.<init>\\(\\)V"
            + "|java/util/SplittableRandom\\.<init>\\(\\)V|java/security/.*|java/util/UUID.*"
            + "|java/util/Collections\\.shuffle|org/apache/commons/math3/random/\\w+\\.<init>\\(\\)V"
            + "|org/apache/commons/math3/util/FastMath\\.random"
            + "|java/lang/System\\.identityHashCode");
    sink(
        "reflection",
        "java/lang/reflect/(?!Array).*|java/lang/Class\\.(forName|newInstance|get\\w*Method"
            + "\\w*|get\\w*Field\\w*|get\\w*Constructor\\w*)|java/util/ServiceLoader.*|sun/.*|javax/script/.*");
    sink(
        "machine",
        "java/util/(Locale|TimeZone)\\.getDefault|java/time/ZoneId\\.systemDefault"
            + "|java/nio/charset/Charset\\.defaultCharset|java/util/ResourceBundle.*"
            + "|java/text/NumberFormat\\.get\\w*Instance\\(\\).*|java/text/DecimalFormat\\.<init>.*"
            + "|java/text/DecimalFormatSymbols\\.(<init>\\(\\)|getInstance\\(\\)).*"
            + "|java/lang/String\\.(toUpperCase\\(\\)|toLowerCase\\(\\)|getBytes\\(\\)"
            + "|format\\(Ljava/lang/String;\\[).*|java/lang/System\\.lineSeparator.*");
    sink("errors", "catch java/lang/(Throwable|Error|\\w+Error)");
  }

  private static void sink(String word, String pattern) {
    SINKS.put(word, Pattern.compile(pattern));
  }

  private final Map<String, ClassNode> classes = new TreeMap<>();
  private final Map<String, Set<String>> subtypes = new HashMap<>();
  private final Map<String, MethodNode> methods = new HashMap<>();
  private final Map<String, Calls> known = new HashMap<>();
  private final AllowList allowed;

  /** What one method calls: sinks by their word, and methods of the library. */
  private record Calls(Map<String, String> sinks, Set<String> targets) {}

  LibraryReach(AllowList allowed, Path jarOrFolder) throws IOException {
    this.allowed = allowed;
    if (Files.isDirectory(jarOrFolder)) {
      try (var files = Files.walk(jarOrFolder)) {
        for (Path one : files.filter(f -> f.toString().endsWith(".class")).toList()) {
          try (InputStream in = Files.newInputStream(one)) {
            read(in);
          }
        }
      }
    } else {
      try (JarFile file = new JarFile(jarOrFolder.toFile())) {
        for (var entry : Collections.list(file.entries())) {
          if (entry.getName().endsWith(".class") && !entry.getName().startsWith("META-INF")) {
            try (InputStream in = file.getInputStream(entry)) {
              read(in);
            }
          }
        }
      }
    }
    for (ClassNode node : classes.values()) {
      supertypes(node.name, new HashSet<>())
          .forEach(
              one -> subtypes.computeIfAbsent(one, k -> new LinkedHashSet<>()).add(node.name));
      node.methods.forEach(m -> methods.put(node.name + "." + m.name + m.desc, m));
    }
  }

  private void read(InputStream in) throws IOException {
    ClassNode node = new ClassNode();
    new ClassReader(in).accept(node, ClassReader.SKIP_DEBUG | ClassReader.SKIP_FRAMES);
    classes.put(node.name, node);
  }

  private Set<String> supertypes(String name, Set<String> found) {
    ClassNode node = classes.get(name);
    if (node != null && found.add(name)) {
      if (node.superName != null) {
        supertypes(node.superName, found);
      }
      node.interfaces.forEach(one -> supertypes(one, found));
    }
    return found;
  }

  /** The members that a cell may call. */
  List<String> roots() {
    List<String> roots = new ArrayList<>();
    for (ClassNode node : classes.values()) {
      String className = node.name.replace('/', '.');
      if ((node.access & Opcodes.ACC_PUBLIC) == 0 || !allowed.allowsType(className)) {
        continue;
      }
      for (MethodNode method : node.methods) {
        boolean visible = (method.access & (Opcodes.ACC_PUBLIC | Opcodes.ACC_PROTECTED)) != 0
            && (method.access & Opcodes.ACC_SYNTHETIC) == 0;
        if (visible
            && allowed.allowsMember(className, method.name, method.desc)
            && typesAllowed(method.desc)
            && supertypes(node.name, new HashSet<>()).stream()
                .noneMatch(
                    s -> allowed.refusesMember(s.replace('/', '.'), method.name, method.desc))) {
          roots.add(node.name + "." + method.name + method.desc);
        }
      }
    }
    return roots;
  }

  private boolean typesAllowed(String descriptor) {
    List<Type> types = new ArrayList<>(List.of(Type.getArgumentTypes(descriptor)));
    types.add(Type.getReturnType(descriptor));
    return types.stream()
        .map(t -> t.getSort() == Type.ARRAY ? t.getElementType() : t)
        .filter(t -> t.getSort() == Type.OBJECT)
        .allMatch(t -> allowed.allowsType(t.getClassName()));
  }

  /** For each root the way to each sink: {@code word: root > ... > sink}. */
  List<String> ways() {
    List<String> ways = new ArrayList<>();
    for (String root : roots()) {
      ways(root, ways);
    }
    return ways;
  }

  private void ways(String root, List<String> ways) {
    Map<String, String> from = new LinkedHashMap<>();
    Deque<String> open = new ArrayDeque<>();
    Set<String> words = new HashSet<>();
    from.put(root, "");
    open.add(root);
    while (!open.isEmpty()) {
      String at = open.remove();
      Calls calls = calls(at);
      calls.sinks().forEach((word, sink) -> {
        if (words.add(word)) {
          ways.add(word + ": " + way(at, from) + " > " + sink);
        }
      });
      for (String target : calls.targets()) {
        if (from.putIfAbsent(target, at) == null) {
          open.add(target);
        }
      }
    }
  }

  private Calls calls(String at) {
    return known.computeIfAbsent(at, key -> {
      Map<String, String> sinks = new LinkedHashMap<>();
      Set<String> targets = new LinkedHashSet<>();
      MethodNode method = methods.get(key);
      for (String call : method == null ? List.<String>of() : called(method)) {
        boolean direct = call.startsWith("!");
        String next = direct ? call.substring(1) : call;
        String name = next.indexOf('(') > 0 ? next.substring(0, next.indexOf('(')) : next;
        SINKS.forEach((word, pattern) -> {
          if (pattern.matcher(next).matches() || pattern.matcher(name).matches()) {
            sinks.putIfAbsent(word, next);
          }
        });
        targets.addAll(targets(next, direct));
      }
      return new Calls(sinks, targets);
    });
  }

  private static String way(String end, Map<String, String> from) {
    List<String> way = new ArrayList<>();
    for (String at = end; !at.isEmpty(); at = from.get(at)) {
      way.add(at);
    }
    Collections.reverse(way);
    return way.stream().collect(Collectors.joining(" > "));
  }

  /** What a method calls; those that no subclass can override begin with an exclamation mark. */
  private List<String> called(MethodNode method) {
    List<String> called = new ArrayList<>();
    for (AbstractInsnNode at : method.instructions) {
      if (at instanceof MethodInsnNode call) {
        called.add((call.getOpcode() == Opcodes.INVOKEVIRTUAL
                    || call.getOpcode() == Opcodes.INVOKEINTERFACE
                ? ""
                : "!")
            + call.owner + "." + call.name + call.desc);
        initialiser(call.owner, called);
      } else if (at instanceof FieldInsnNode field) {
        called.add(field.owner + "." + field.name);
        initialiser(field.owner, called);
      } else if (at instanceof TypeInsnNode type && type.getOpcode() == Opcodes.NEW) {
        initialiser(type.desc, called);
      } else if (at instanceof InvokeDynamicInsnNode dynamic) {
        for (Object argument : dynamic.bsmArgs) {
          if (argument instanceof Handle handle) {
            called.add("!" + handle.getOwner() + "." + handle.getName() + handle.getDesc());
          }
        }
      }
    }
    for (TryCatchBlockNode block : method.tryCatchBlocks) {
      if (block.type != null) {
        called.add("catch " + block.type);
      }
    }
    return called;
  }

  private void initialiser(String owner, List<String> called) {
    if (methods.containsKey(owner + ".<clinit>()V")) {
      called.add("!" + owner + ".<clinit>()V");
    }
  }

  /** Where a call can end up within the library. */
  private List<String> targets(String call, boolean direct) {
    int dot = call.lastIndexOf('.', call.indexOf('(') < 0 ? call.length() : call.indexOf('('));
    if (dot < 0 || call.indexOf('(') < 0) {
      return List.of();
    }
    String owner = call.substring(0, dot);
    String member = call.substring(dot + 1);
    List<String> targets = new ArrayList<>();
    for (String one : supertypes(owner, new LinkedHashSet<>())) {
      if (methods.containsKey(one + "." + member)) {
        targets.add(one + "." + member);
        break;
      }
    }
    if (!direct) {
      for (String one : subtypes.getOrDefault(owner, Set.of())) {
        if (methods.containsKey(one + "." + member)) {
          targets.add(one + "." + member);
        }
      }
    }
    return targets;
  }
}
