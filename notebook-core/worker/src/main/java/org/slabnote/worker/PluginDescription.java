package org.slabnote.worker;

import java.util.List;
import org.slabnote.api.Purpose;

/**
 * What a third party's plugin says of itself once it is loaded, or why it cannot be.
 *
 * @param id its id
 * @param summary what it is for, one line
 * @param operations its operations and filters, in order of id
 * @param formats its readers of scans, in order of id
 * @param exportedPackages packages that cells may import
 * @param problem why it cannot be used, in words; empty where it can
 * @since 0.1
 */
public record PluginDescription(
    String id,
    String summary,
    List<Offer> operations,
    List<Offer> formats,
    List<String> exportedPackages,
    String problem) {
  /** Copies the lists. */
  public PluginDescription {
    operations = List.copyOf(operations);
    formats = List.copyOf(formats);
    exportedPackages = List.copyOf(exportedPackages);
  }

  /** Returns a description of a plugin that cannot be used. */
  public static PluginDescription unfit(String problem) {
    return new PluginDescription("", "", List.of(), List.of(), List.of(), problem);
  }

  /**
   * An operation, a filter or a format.
   *
   * @param id its id
   * @param revision its revision
   * @param purpose what it is for, a constant of {@link Purpose}; empty for a format
   * @param type name of its class
   */
  public record Offer(String id, int revision, String purpose, String type) {}
}
