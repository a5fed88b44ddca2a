package org.slabnote.worker.run;

import java.lang.reflect.Constructor;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.RecordComponent;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicInteger;
import org.slabnote.api.CancelledException;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Operations;
import org.slabnote.api.Scan;
import org.slabnote.api.ScanFileException;
import org.slabnote.api.ScanFormat;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.Work;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.RunOutcome.StepFact.Kind;

/**
 * Applies the operations, filters and formats of third parties, so that what one of them does reaches
 * nothing but its own step, and is noticed.
 *
 * <p>Bundled ones are held to their contract by the testkit before they are shipped; of a stranger's
 * nobody here knows. So each gets copies of its inputs, and of its result a copy is handed on: an
 * input that it changes, and a result that it keeps and changes later, harm no other step. The copies
 * of its inputs are compared with the inputs when it returns.
 *
 * <p>Then it is applied a second time, on one thread, by classes loaded anew and so with no static
 * state, and both results are compared byte for byte before either is used: this finds clocks,
 * chance, state kept from step to step, and results that hang on the number of threads. It is done
 * for the first {@value #ALWAYS} steps of each operation that a run computes, two since what is kept
 * from the first shows in the second; and for further ones that took less than {@value
 * #CHEAP_MILLIS} ms, since these cost little. The rest is trusted: else every long step would take
 * twice its time, for ever.
 */
final class ThirdPartySteps {
  static final int ALWAYS = 2;
  static final int CHEAP_MILLIS = 50;

  private final Plugins plugins;
  private final ClassLoader cells;
  private final ScanFiles scans;
  private final RunControl control;
  private final Map<String, AtomicInteger> computed = new ConcurrentHashMap<>();

  /** An input that was copied: the digest that the copy must have still. */
  private record Copied(Node<?> node, Object copy, String digest) {}

  /** A result: its encoding, and for a scan what is remarked on it. */
  private record Result(byte[] bytes, List<String> remarks) {}

  /** A value that was found good: a copy that the plugin does not have, and what a format remarks. */
  record Good(Object value, String sha256, List<String> remarks) {}

  ThirdPartySteps(Plugins plugins, ClassLoader cells, ScanFiles scans, RunControl control) {
    this.plugins = plugins;
    this.cells = cells;
    this.scans = scans;
    this.control = control;
  }

  /** Returns the third party's plugin that computes a step; nothing where it is bundled or a cell's. */
  Optional<Plugins.Loaded> of(Node<?> node) {
    if (plugins.thirdParties().isEmpty()) {
      return Optional.empty();
    }
    return node.statement.kind() == Kind.SCAN
        ? plugins.thirdParty(scans.format((SurveyRow) node.statement.body()).getClass())
        : plugins.thirdParty(node.statement.owner());
  }

  /** Returns the types of the values of a step. */
  ClassLoader types(Node<?> node) {
    return plugins
        .thirdParty(node.statement.owner())
        .map(plugin -> types(plugin.loader().orElseThrow()))
        .orElseGet(() -> types(List.of()));
  }

  private ClassLoader types(PluginLoader first) {
    return types(List.of(first));
  }

  private ClassLoader types(List<PluginLoader> first) {
    if (plugins.thirdParties().isEmpty()) {
      return cells;
    }
    return new ValueTypes(
        first,
        cells,
        plugins.thirdParties().stream().map(one -> one.loader().orElseThrow()).toList());
  }

  /**
   * Computes a step.
   *
   * @return its value, which another application gave too where that was tried
   * @throws PluginFault if the plugin does what it must not
   */
  Good apply(Node<?> node, Plugins.Loaded plugin, StepWork.Helpers helpers) {
    PluginLoader loader = plugin.loader().orElseThrow();
    long start = System.nanoTime();
    Result first = once(node, plugin, loader, new StepWork(node, control, helpers, false));
    Object value = typed(node, first, loader);
    long millis = (System.nanoTime() - start) / 1_000_000;
    int before =
        computed.computeIfAbsent(Keys.title(node), id -> new AtomicInteger()).getAndIncrement();
    if (before < ALWAYS || millis < CHEAP_MILLIS) {
      compare(first, again(node, plugin, loader.fresh()));
    }
    return new Good(value, Canonical.sha256(first.bytes()), first.remarks());
  }

  private Object typed(Node<?> node, Result result, PluginLoader loader) {
    Object value;
    try {
      value = Canonical.decode(result.bytes(), types(loader));
    } catch (IllegalArgumentException e) {
      throw new PluginFault(
          "what it gives cannot be made again from its encoding: " + e.getMessage(), e);
    }
    Optional<String> misfit = Fits.result(node.statement.body().getClass())
        .flatMap(stated -> Fits.misfit(stated, value, "its value"));
    if (misfit.isPresent()) {
      throw new PluginFault(misfit.get());
    }
    return value;
  }

  private Result again(Node<?> node, Plugins.Loaded plugin, PluginLoader fresh) {
    StepWork alone = new StepWork(node, control, (most, help) -> {}, true);
    try {
      return once(node, plugin, fresh, alone);
    } catch (CancelledException e) {
      throw e;
    } catch (RuntimeException | LinkageError e) {
      throw new PluginFault(
          "it gave a value the first time; applied to the same input a second time it throws "
              + e.getClass().getSimpleName()
              + (e.getMessage() == null ? "" : ": " + e.getMessage()),
          e);
    }
  }

  private static void compare(Result first, Result second) {
    if (!Arrays.equals(first.bytes(), second.bytes())) {
      throw new PluginFault("it answers differently the second time: applied to the same input, it "
          + "gave a value of SHA-256 " + Canonical.sha256(first.bytes()) + ", then one of "
          + Canonical.sha256(second.bytes())
          + ". Perhaps it uses the clock, chance without a seed, "
          + "or what it kept from another step, or its result hangs on the number of threads");
    }
    if (!first.remarks().equals(second.remarks())) {
      throw new PluginFault("it remarks differently on the same file the second time: "
          + first.remarks() + ", then " + second.remarks());
    }
  }

  private Result once(Node<?> node, Plugins.Loaded plugin, PluginLoader loader, StepWork work) {
    Thread thread = Thread.currentThread();
    ClassLoader before = thread.getContextClassLoader();
    thread.setContextClassLoader(loader);
    try {
      if (node.statement.kind() == Kind.SCAN) {
        return scan((SurveyRow) node.statement.body(), plugin, loader);
      }
      List<Copied> copies = new ArrayList<>();
      Object value = node.statement.kind() == Kind.FILTER
          ? filter(node, loader, copies, work)
          : Operations.apply((Operation<?>) operation(node, loader, copies), work);
      byte[] bytes = encoded(value);
      copies.forEach(ThirdPartySteps::checkUnchanged);
      return new Result(bytes, List.of());
    } finally {
      thread.setContextClassLoader(before);
    }
  }

  private static byte[] encoded(@org.jspecify.annotations.Nullable Object value) {
    if (value == null) {
      throw new PluginFault("it gives null; expected a value");
    }
    try {
      return Canonical.encode(value);
    } catch (IllegalArgumentException e) {
      throw new PluginFault("what it gives cannot be recorded: " + e.getMessage(), e);
    } catch (NullPointerException e) {
      throw new PluginFault(
          "what it gives, a " + value.getClass().getName() + ", holds a null; expected none", e);
    }
  }

  private Result scan(SurveyRow row, Plugins.Loaded plugin, PluginLoader loader) {
    ScanFormat own = scans.format(row);
    ScanFormat format = loader == own.getClass().getClassLoader()
        ? own
        : Plugins.loadAgain(plugin, loader).formats().stream()
            .filter(one -> one.id().equals(own.id()))
            .findFirst()
            .orElseThrow(() -> new PluginFault("it does not offer " + own.id() + " any more"));
    ScanFiles.Read read;
    try {
      read = scans.read(row, format);
    } catch (ScanFileException e) {
      throw e; // about the file: meant
    }
    Scan scan = read.scan();
    return new Result(encoded(scan), read.remarks());
  }

  @SuppressWarnings({"unchecked", "rawtypes"})
  private Object filter(Node<?> node, PluginLoader loader, List<Copied> copies, Work work) {
    Node<?> input = node.statement.inputs().get(0).nodes().get(0);
    Object body = node.statement.body();
    Filter filter = (Filter)
        (loader == body.getClass().getClassLoader() ? body : translated(body, types(loader)));
    return Operations.apply(filter, copy(input, loader, copies), work);
  }

  private Object copy(Node<?> node, PluginLoader loader, List<Copied> copies) {
    byte[] bytes = Canonical.encode(node.get());
    List<PluginLoader> first = new ArrayList<>(List.of(loader));
    plugins
        .thirdParty(node.statement.owner())
        .flatMap(Plugins.Loaded::loader)
        .filter(own -> own.code() != loader.code())
        .ifPresent(first::add);
    Object copy = Canonical.decode(bytes, types(first));
    copies.add(new Copied(node, copy, Canonical.sha256(bytes)));
    return copy;
  }

  private static void checkUnchanged(Copied input) {
    String now;
    try {
      now = Canonical.digest(input.copy());
    } catch (RuntimeException e) {
      now = "none any more (" + e.getClass().getSimpleName() + ")";
    }
    if (!now.equals(input.digest())) {
      throw new PluginFault("it changes its input, step " + input.node().named()
          + ": SHA-256 before " + input.digest() + ", after " + now
          + ". Expected inputs left as they are. No other step got what it changed");
    }
  }

  /** Returns the operation again, with copies of its inputs, of the class that a loader has. */
  private Object operation(Node<?> node, PluginLoader loader, List<Copied> copies) {
    Object body = node.statement.body();
    Map<String, Node.Input> inputs = new LinkedHashMap<>();
    node.statement.inputs().forEach(input -> inputs.put(input.component(), input));
    Map<String, Object> values = new LinkedHashMap<>();
    ClassLoader types = types(loader);
    boolean same = loader == body.getClass().getClassLoader();
    for (Operations.Component c : Operations.components(body.getClass())) {
      Object value = Operations.value(body, c.name());
      Node.Input input = inputs.get(c.name());
      values.put(
          c.name(),
          input != null
              ? handle(value, input, loader, copies)
              : same ? value : translated(value, types));
    }
    return made(same ? body.getClass() : again(body.getClass(), loader), values);
  }

  private static Class<?> again(Class<?> type, PluginLoader loader) {
    Class<?> found = loader.ownClass(type.getName());
    if (found == null) {
      throw new IllegalStateException(type.getName() + " is not among its own classes");
    }
    return found;
  }

  private static Object translated(Object value, ClassLoader types) {
    return Canonical.decode(Canonical.encode(value), types);
  }

  private Object handle(Object handle, Node.Input input, PluginLoader loader, List<Copied> copies) {
    if (handle instanceof Optional<?> optional) {
      return optional.map(inner -> handle(inner, input, loader, copies));
    }
    if (handle instanceof Steps<?>) {
      Map<String, Step<Object>> steps = new LinkedHashMap<>();
      for (int i = 0; i < input.nodes().size(); i++) {
        steps.put(input.members().get(i), step(input.nodes().get(i), loader, copies));
      }
      return new PrivateStep.Family<>(steps);
    }
    return step(input.nodes().get(0), loader, copies);
  }

  private Step<Object> step(Node<?> node, PluginLoader loader, List<Copied> copies) {
    return new PrivateStep<>(copy(node, loader, copies), node.toString());
  }

  private static Object made(Class<?> type, Map<String, Object> values) {
    RecordComponent[] components = type.getRecordComponents();
    Class<?>[] types = new Class<?>[components.length];
    Object[] arguments = new Object[components.length];
    for (int i = 0; i < components.length; i++) {
      types[i] = components[i].getType();
      arguments[i] = values.get(components[i].getName());
    }
    try {
      Constructor<?> constructor = type.getDeclaredConstructor(types);
      constructor.setAccessible(true);
      return constructor.newInstance(arguments);
    } catch (InvocationTargetException e) {
      Throwable cause = e.getTargetException();
      if (cause instanceof RuntimeException unchecked) {
        throw unchecked;
      }
      if (cause instanceof Error error) {
        throw error;
      }
      throw new PluginFault("its record cannot be made again: " + cause, cause);
    } catch (ReflectiveOperationException e) {
      throw new PluginFault("its record cannot be made again: " + e.getMessage(), e);
    }
  }

  /** Tells of threads that plugins left running: they end with the run, and reach no value. */
  void tellThreads() {
    if (plugins.thirdParties().isEmpty()) {
      return;
    }
    SortedMap<String, SortedSet<String>> left = new TreeMap<>();
    for (Thread thread : Thread.getAllStackTraces().keySet()) {
      if (thread.getContextClassLoader() instanceof PluginLoader loader && lives(thread)) {
        left.computeIfAbsent(loader.code().plugin().title(), title -> new TreeSet<>())
            .add(thread.getName());
      }
    }
    left.forEach((title, names) -> control.tell(l -> l.message(title
        + (names.size() == 1 ? " left a thread running, " : " left threads running, ")
        + String.join(", ", names)
        + (names.size() == 1 ? ". It ends" : ". They end")
        + " with this run and reached no value; tell the plugin's author")));
  }

  private static boolean lives(Thread thread) {
    try {
      thread.join(100); // an executor that was shut down may be about to end
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    return thread.isAlive();
  }
}
