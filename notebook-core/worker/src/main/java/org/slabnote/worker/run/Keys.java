package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Op;
import org.slabnote.api.ScanFormat;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.codec.Canonical;

/**
 * Keys of steps: the digest of all that decides a value.
 *
 * <p>Scan: file digest, survey row, id, revision and implementation of its format. Filter: id,
 * revision, implementation, parameters, key of its input. Operation: the same with all inputs, and
 * its address, since its result may name sources of uncertainty by it.
 */
final class Keys {
  private static final String VERSION = "slabnote step 1";

  private final ScanFiles scans;
  private final Implementations implementations;

  Keys(ScanFiles scans, Implementations implementations) {
    this.scans = scans;
    this.implementations = implementations;
  }

  /** Makes the key of a step whose inputs have theirs. */
  void make(Node<?> node) {
    if (!node.key.isEmpty()) {
      return;
    }
    Node.Statement s = node.statement;
    List<Object> parts = new ArrayList<>(List.of(VERSION, s.kind().name()));
    switch (s.kind()) {
      case SCAN -> {
        SurveyRow row = (SurveyRow) s.body();
        ScanFormat format = scans.format(row);
        node.operation = format.id();
        node.revision = format.revision();
        node.implementation = implementations.of(format.getClass());
        parts.addAll(List.of(scans.digest(row), s.parameterDigest()));
      }
      case FILTER -> parts.add(s.parameterDigest());
      case OPERATION -> parts.addAll(List.of(s.parameterDigest(), node.named()));
    }
    parts.addAll(List.of(node.operation, node.revision, node.implementation));
    for (Node.Input input : s.inputs()) {
      parts.add(input.component());
      parts.add(input.members());
      parts.add(input.nodes().stream().map(one -> one.key).toList());
    }
    node.key = Canonical.digest(parts);
  }

  /** Returns the size of a scan's file; 0 where it cannot be told. */
  long bytes(Node<?> scan) {
    return scans.size((SurveyRow) scan.statement.body());
  }

  static String title(Node<?> node) {
    return node.statement.op().map(Op::id).orElse(node.operation);
  }
}
