package org.slabnote.forward;

import java.util.List;
import org.slabnote.api.quantity.Length;

/**
 * A bar, tendon, conduit or pipe: a circular cylinder along straight runs between nodes.
 *
 * @param name name, unique in the model
 * @param material what it is made of
 * @param diameter outside diameter, above zero
 * @param nodes two nodes or more, in order along the run
 * @since 0.1
 */
public record Cylinder(String name, Material material, Length diameter, List<Node> nodes) {
  /**
   * Copies the list and checks it.
   *
   * @throws IllegalArgumentException if there are fewer than two nodes, or the diameter or a depth
   *     is not positive
   */
  public Cylinder {
    nodes = List.copyOf(nodes);
    if (nodes.size() < 2
        || diameter.value() <= 0
        || nodes.stream().anyMatch(n -> n.depth().value() <= 0)) {
      throw new IllegalArgumentException(
          "cylinder " + name + " of " + diameter + " with " + nodes.size()
              + " nodes; expected a diameter above 0, two nodes or more, depths above 0");
    }
  }

  /** Returns whether it is metal. */
  public boolean metal() {
    return material instanceof Material.Metal;
  }
}
