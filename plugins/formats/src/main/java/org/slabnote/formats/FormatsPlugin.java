package org.slabnote.formats;

import java.util.List;
import org.slabnote.api.Plugin;
import org.slabnote.api.ScanFormat;

/**
 * The readers of scan files. It has no operations, and cells see none of it.
 *
 * @since 0.1
 */
public final class FormatsPlugin implements Plugin {
  @Override
  public String id() {
    return "formats";
  }

  @Override
  public String summary() {
    return "Reads scan files: SEG-Y, revisions 0 to 2.1";
  }

  @Override
  public List<Class<?>> operations() {
    return List.of();
  }

  @Override
  public List<ScanFormat> scanFormats() {
    return List.of(new SegyFormat());
  }

  @Override
  public List<String> exportedPackages() {
    return List.of();
  }
}
