package org.slabnote.worker.run;

import java.lang.ref.SoftReference;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.concurrent.atomic.AtomicBoolean;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Filter;
import org.slabnote.api.Op;
import org.slabnote.api.Orientation;
import org.slabnote.api.Step;
import org.slabnote.worker.RunOutcome.StepFact.Kind;
import org.slabnote.worker.RunOutcome.ValueFact;

/**
 * A step in the graph. What was stated is fixed; address and key come later, the value later still.
 *
 * @param <R> type of the result
 */
final class Node<R> implements Step<R> {
  /**
   * What was stated.
   *
   * @param kind scan, filter or operation
   * @param op annotation; empty for a scan
   * @param body the operation, the filter or the survey row
   * @param owner id of the plugin; empty for a cell's own operation
   * @param implementation digest of what computes it; empty for a scan until its format is known
   * @param parameters parameters by name, as they are told
   * @param parameterDigest digest of their canonical encodings
   * @param inputs inputs by component
   * @param orientation orientation, where all inputs agree
   * @param certain whether the orientation is known for sure: a scan or a filtered scan
   * @param place where it was stated
   */
  record Statement(
      Kind kind,
      Optional<Op> op,
      Object body,
      String owner,
      String implementation,
      SortedMap<String, Object> parameters,
      String parameterDigest,
      List<Input> inputs,
      Optional<Orientation> orientation,
      boolean certain,
      Place place) {}

  /** An input: the component's name and the steps with their names in the family. */
  record Input(String component, List<String> members, List<Node<?>> nodes) {}

  private final Graph graph;
  final int index;
  final Statement statement;
  final Family family;
  final String member;

  // Named by the replay thread; read by others only after it was demanded.
  volatile @Nullable String address;
  volatile String familyAddress = "";
  volatile String key = "";
  volatile String operation = "";
  volatile int revision;
  volatile String implementation;
  volatile boolean demanded;
  /** Number of the statement that stated it; -1 where none did. */
  volatile int statedBy = -1;

  // Guarded by the scheduler's lock.
  volatile @Nullable Object value;

  @Nullable
  SoftReference<Object> spare;

  int uses;
  volatile @Nullable ValueFact fact;
  /** Whether the fact is there or on its way. */
  final AtomicBoolean digesting = new AtomicBoolean();

  Node(Graph graph, int index, Statement statement, Family family, String member) {
    this.graph = graph;
    this.index = index;
    this.statement = statement;
    this.family = family;
    this.member = member;
    implementation = statement.implementation();
    statement.op().ifPresent(op -> {
      operation = op.id();
      revision = op.revision();
    });
  }

  @Override
  @SuppressWarnings("unchecked")
  public R get() {
    return (R) graph.valueOf(this);
  }

  @Override
  public Step<R> then(Filter<R> filter) {
    return graph.filter(this, filter);
  }

  /** Returns the address; it was named before. */
  String named() {
    String now = address;
    if (now == null) {
      throw new IllegalStateException("step " + index + " has no address yet");
    }
    return now;
  }

  @Override
  public String toString() {
    String now = address;
    return now == null ? "step" : "step " + now;
  }
}
