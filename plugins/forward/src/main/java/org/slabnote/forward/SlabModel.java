package org.slabnote.forward;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.quantity.Length;

/**
 * A slab with what is in it, and the instrument that scans it.
 *
 * @param concrete the slab
 * @param cylinders what is in it
 * @param instrument the antennas
 * @since 0.1
 */
public record SlabModel(Concrete concrete, List<Cylinder> cylinders, Instrument instrument) {
  /** Copies the list. */
  public SlabModel {
    cylinders = List.copyOf(cylinders);
  }

  /** Returns a builder. */
  public static Builder of(Concrete concrete, Instrument instrument) {
    return new Builder(concrete, instrument);
  }

  /**
   * Gathers what is in the slab.
   *
   * @since 0.1
   */
  public static final class Builder {
    private final Concrete concrete;
    private final Instrument instrument;
    private final List<Cylinder> cylinders = new ArrayList<>();

    private Builder(Concrete concrete, Instrument instrument) {
      this.concrete = concrete;
      this.instrument = instrument;
    }

    /** Adds a metal bar, tendon or conduit along nodes. */
    public Builder metal(String name, Length diameter, Node... nodes) {
      return add(new Cylinder(name, new Material.Metal(), diameter, List.of(nodes)));
    }

    /** Adds a tube of dielectric along nodes. */
    public Builder tube(String name, Length diameter, Material.Tube tube, Node... nodes) {
      return add(new Cylinder(name, tube, diameter, List.of(nodes)));
    }

    /** Adds a cylinder. */
    public Builder add(Cylinder cylinder) {
      cylinders.add(cylinder);
      return this;
    }

    /** Returns the model. */
    public SlabModel build() {
      return new SlabModel(concrete, cylinders, instrument);
    }
  }
}
