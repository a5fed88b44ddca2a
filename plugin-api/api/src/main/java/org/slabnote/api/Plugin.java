package org.slabnote.api;

import java.util.List;

/**
 * What a jar offers to the notebook. Found by {@link java.util.ServiceLoader}.
 *
 * <p>Ids of operations and formats start with {@link #id()} and a dot. No priorities, no
 * overriding: a double id is an error.
 *
 * @since 0.1
 */
public interface Plugin {
  /** Returns the plugin's prefix: lower case, as in {@code filters}. */
  String id();

  /** Returns what it is for, one line. */
  String summary();

  /** Returns its operations and filters: records annotated {@link Op}. */
  List<Class<?>> operations();

  /** Returns its readers of scan files. */
  default List<ScanFormat> scanFormats() {
    return List.of();
  }

  /** Returns the packages that cells may import. */
  default List<String> exportedPackages() {
    return List.of(getClass().getPackageName());
  }
}
