package org.slabnote.filters;

import java.util.List;
import org.slabnote.api.Plugin;

/**
 * Offers the filters, the surface time and the acquisition checks.
 *
 * @since 0.1
 */
public final class FiltersPlugin implements Plugin {

  @Override
  public String id() {
    return "filters";
  }

  @Override
  public String summary() {
    return "time zero, dewow, background removal, band-pass, gain, envelope, acquisition checks";
  }

  @Override
  public List<Class<?>> operations() {
    return List.of(
        AcquisitionChecks.class,
        AtSurface.class,
        BackgroundRemoval.class,
        BandPass.class,
        Dewow.class,
        Envelope.class,
        Gain.class,
        MedianDewow.class,
        SurfaceTime.class);
  }
}
