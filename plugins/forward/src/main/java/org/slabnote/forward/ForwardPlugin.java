package org.slabnote.forward;

import java.util.List;
import org.slabnote.api.Plugin;

/**
 * Offers the forward models to the notebook.
 *
 * @since 0.1
 */
public final class ForwardPlugin implements Plugin {
  @Override
  public String id() {
    return "forward";
  }

  @Override
  public String summary() {
    return "Scans that a slab model would give";
  }

  @Override
  public List<Class<?>> operations() {
    return List.of(RayScan.class);
  }
}
