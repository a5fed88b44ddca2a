package org.slabnote.probe;

import java.util.List;
import org.slabnote.api.Plugin;
import org.slabnote.api.ScanFormat;

/** Offers the operations of this package. */
public final class ProbePlugin implements Plugin {
  @Override
  public String id() {
    return "probe";
  }

  @Override
  public String summary() {
    return "operations for tests of the engine";
  }

  @Override
  public List<Class<?>> operations() {
    return List.of(
        Scale.class, Level.class, Levels.class, Judge.class, Weigh.class, Stubborn.class);
  }

  @Override
  public List<ScanFormat> scanFormats() {
    return List.of(new TextScans());
  }
}
