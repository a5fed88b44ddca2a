package org.slabnote.fake;

import java.util.List;
import org.slabnote.api.Plugin;
import org.slabnote.api.ScanFormat;

/** A small plugin for the worker's tests. */
public final class FakePlugin implements Plugin {
  @Override
  public String id() {
    return "fake";
  }

  @Override
  public String summary() {
    return "for tests";
  }

  @Override
  public List<Class<?>> operations() {
    return List.of(
        Scaled.class,
        Peak.class,
        Total.class,
        Verdicts.class,
        Refuses.class,
        Endless.class,
        Hungry.class,
        Deep.class,
        Kills.class,
        Loops.class,
        Listed.class,
        Rows.class,
        Meets.class,
        Named.class);
  }

  @Override
  public List<ScanFormat> scanFormats() {
    return List.of(new FakeFormat());
  }
}
