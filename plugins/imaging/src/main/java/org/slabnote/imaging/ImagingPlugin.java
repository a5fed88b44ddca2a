package org.slabnote.imaging;

import java.util.List;
import org.slabnote.api.Plugin;

/**
 * Offers the imaging operations to the notebook.
 *
 * @since 0.1
 */
public final class ImagingPlugin implements Plugin {
  @Override
  public String id() {
    return "imaging";
  }

  @Override
  public String summary() {
    return "Images of the slab in depth";
  }

  @Override
  public List<Class<?>> operations() {
    return List.of(DiffractionStack.class);
  }
}
