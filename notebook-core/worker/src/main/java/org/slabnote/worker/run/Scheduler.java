package org.slabnote.worker.run;

import java.lang.ref.SoftReference;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import org.jspecify.annotations.Nullable;
import org.slabnote.worker.Planned;

/**
 * Computes steps on a fixed number of threads: those that are wanted, what they need, and nothing
 * else; what is remembered is loaded.
 *
 * <p>A value is held while a step that uses it is still to be computed, then only as long as memory
 * allows. A remembered value that turns out damaged is computed after all.
 */
final class Scheduler implements AutoCloseable, StepWork.Helpers {
  private static final long STACK_BYTES = 8L << 20;

  private final Graph graph;
  private final Keys keys;
  private final StepRunner runner;
  private final RunControl control;
  private final int threads;
  private final ExecutorService pool;

  // All below is guarded by this object's lock.
  private final Map<Integer, Task> tasks = new TreeMap<>();
  private final Plans plans;
  private int known;
  private int done;

  /** A step on its way. */
  private static final class Task {
    final Node<?> node;
    final List<Task> dependents = new ArrayList<>();
    boolean remembered;
    boolean linked;
    boolean told;
    int waiting;

    Task(Node<?> node, boolean remembered) {
      this.node = node;
      this.remembered = remembered;
    }
  }

  Scheduler(Graph graph, Keys keys, StepRunner runner, RunControl control, int threads) {
    this.graph = graph;
    this.keys = keys;
    this.runner = runner;
    this.control = control;
    this.threads = threads;
    plans = new Plans(graph, keys);
    pool = Executors.newFixedThreadPool(threads, task -> {
      Thread thread = new Thread(null, task, "compute", STACK_BYTES);
      thread.setDaemon(true);
      return thread;
    });
    control.onStop(() -> {
      synchronized (this) {
        notifyAll();
      }
    });
  }

  /** Computes a step for a cell and returns its value. */
  Object get(Node<?> node) {
    synchronized (this) {
      node.uses++;
    }
    compute(List.of(node));
    synchronized (this) {
      Object value = node.value;
      release(node);
      if (value == null) {
        throw new RunStopped();
      }
      return value;
    }
  }

  /**
   * Computes steps and waits for them; returns early when the run is stopped. What failed is noted
   * with the run.
   */
  void compute(Collection<? extends Node<?>> wanted) {
    wanted.forEach(graph::nameUpTo);
    List<Node<?>> nodes = graph.nodes();
    Set<Integer> upstream = new TreeSet<>(Graph.upstream(nodes, wanted));
    for (int i : upstream) {
      keys.make(nodes.get(i));
    }
    synchronized (this) {
      List<Integer> indexes = new ArrayList<>();
      wanted.forEach(node -> indexes.add(node.index));
      plan(indexes);
    }
    tellPlanned();
    synchronized (this) {
      while (!tasks.isEmpty() && !control.stopped()) {
        try {
          wait();
        } catch (InterruptedException e) {
          Thread.currentThread().interrupt();
          throw new RunStopped();
        }
      }
    }
    if (control.stopped()) {
      throw new RunStopped();
    }
  }

  /** Waits until all that is told of what was demanded is there. */
  void awaitDigests() {
    runner.awaitDigests();
  }

  /** Makes tasks for steps and all they need, and starts those that wait for nothing. */
  private void plan(Collection<Integer> indexes) {
    TreeSet<Integer> open = new TreeSet<>(indexes);
    List<Task> made = new ArrayList<>();
    while (!open.isEmpty()) {
      int index = open.pollLast();
      Node<?> node = graph.nodes().get(index);
      if (isThere(node) || tasks.containsKey(index)) {
        continue;
      }
      Task task = new Task(node, runner.isRemembered(node));
      tasks.put(index, task);
      made.add(0, task);
      if (!task.remembered) {
        inputs(node).forEach(input -> open.add(input.index));
      }
    }
    known += made.size();
    for (Task task : made) {
      if (!task.remembered) {
        link(task);
        plans.add(task.node);
      }
      if (task.waiting == 0) {
        start(task);
      }
    }
  }

  /** Returns whether a value is in memory; what is to be told of it is then made from there. */
  private boolean isThere(Node<?> node) {
    SoftReference<Object> spare = node.spare;
    if (node.value == null && spare != null) {
      node.value = spare.get();
    }
    Object value = node.value;
    if (value != null && node.demanded && node.fact == null) {
      runner.digest(node, value, false);
    }
    return value != null;
  }

  /** Makes a task wait for the inputs that are on their way, and holds those that are there. */
  private void link(Task task) {
    task.linked = true;
    for (Node<?> input : inputs(task.node)) {
      input.uses++;
      Task before = tasks.get(input.index);
      if (before != null) {
        before.dependents.add(task);
        task.waiting++;
      }
    }
  }

  private static List<Node<?>> inputs(Node<?> node) {
    List<Node<?>> all = new ArrayList<>();
    node.statement.inputs().forEach(input -> all.addAll(input.nodes()));
    return all;
  }

  private void start(Task task) {
    try {
      pool.execute(() -> run(task));
    } catch (RejectedExecutionException e) {
      end(task, null); // the run is over
    }
  }

  private void run(Task task) {
    @Nullable Object value = null;
    try {
      if (!control.stopped()) {
        if (task.remembered && onlyTold(task) && runner.loadFact(task.node)) {
          endTold(task);
          return;
        }
        if (task.remembered) {
          Optional<Object> loaded = runner.load(task.node);
          if (loaded.isEmpty()) {
            computeAfterAll(task);
            return;
          }
          value = loaded.get();
        } else {
          value = runner.compute(task.node, this);
        }
      }
    } catch (Throwable e) { // whatever an operation throws is charged to it
      runner.failed(task.node, e);
    }
    finish(task, value);
  }

  /** Returns whether nothing computes with a value: then it need not be loaded to be told. */
  private synchronized boolean onlyTold(Task task) {
    return !task.told && task.node.demanded && task.node.uses == 0 && task.dependents.isEmpty();
  }

  /** Ends a task without its value, unless something came to need that meanwhile. */
  private void endTold(Task task) {
    synchronized (this) {
      task.told = true;
      if (!task.dependents.isEmpty()) {
        start(task);
        return;
      }
      end(task, null);
    }
    runner.tellRemembered(task.node);
    tellSteps();
  }

  private void computeAfterAll(Task task) {
    synchronized (this) {
      task.remembered = false;
      List<Integer> indexes = new ArrayList<>();
      inputs(task.node).forEach(input -> indexes.add(input.index));
      plan(indexes);
      link(task);
      plans.add(task.node);
      if (task.waiting == 0) {
        start(task);
      }
    }
    tellPlanned();
  }

  private void tellPlanned() {
    List<Planned> fresh;
    synchronized (this) {
      fresh = plans.take();
    }
    if (!fresh.isEmpty()) {
      control.tell(l -> l.planned(fresh));
    }
  }

  private void finish(Task task, @Nullable Object value) {
    synchronized (this) {
      end(task, value);
    }
    tellSteps();
  }

  private void tellSteps() {
    int now;
    int all;
    synchronized (this) {
      now = done;
      all = known;
      notifyAll();
    }
    control.tell(l -> l.steps(now, all)); // never under the lock: a listener may cancel
  }

  /** Ends a task; without a value, all that wait for it end too. */
  private void end(Task task, @Nullable Object value) {
    tasks.remove(task.node.index);
    done++;
    task.node.value = value;
    if (task.linked) {
      inputs(task.node).forEach(this::release);
    }
    if (task.node.uses == 0) {
      spare(task.node);
    }
    for (Task dependent : task.dependents) {
      if (value == null) {
        if (tasks.containsKey(dependent.node.index)) {
          end(dependent, null);
        }
      } else if (--dependent.waiting == 0) {
        start(dependent);
      }
    }
  }

  private void release(Node<?> node) {
    if (--node.uses == 0) {
      spare(node);
    }
  }

  private static void spare(Node<?> node) {
    Object value = node.value;
    if (value != null) {
      node.spare = new SoftReference<>(value);
      node.value = null;
    }
  }

  /** Returns the steps that are on their way, in order. */
  synchronized List<Node<?>> onTheWay() {
    List<Node<?>> nodes = new ArrayList<>();
    tasks.values().stream().filter(t -> t.waiting == 0).forEach(t -> nodes.add(t.node));
    return nodes;
  }

  @Override
  public void offer(int most, Runnable help) {
    try {
      for (int i = 0; i < Math.min(most, threads - 1); i++) {
        pool.execute(help);
      }
    } catch (RejectedExecutionException e) {
      return; // the run is over; the caller does all items
    }
  }

  @Override
  public void close() {
    pool.shutdown();
  }
}
