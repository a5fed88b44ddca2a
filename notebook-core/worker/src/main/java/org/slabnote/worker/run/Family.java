package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.List;

/** Steps that were stated together, one per name; or one step alone. */
final class Family {
  private final boolean single;
  private final List<Node<?>> nodes = new ArrayList<>();

  Family(boolean single) {
    this.single = single;
  }

  boolean single() {
    return single;
  }

  List<Node<?>> nodes() {
    return nodes;
  }
}
