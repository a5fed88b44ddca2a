package org.slabnote.worker.run;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.slabnote.api.Op;
import org.slabnote.api.Operations;
import org.slabnote.api.ScanFormat;
import org.slabnote.worker.PluginDescription;
import org.slabnote.worker.PluginDescription.Offer;
import org.slabnote.worker.PluginJars;

/**
 * Loads a third party's plugin in this process and tells what it says of itself.
 *
 * @since 0.1
 */
public final class Descriptions {
  private Descriptions() {}

  /**
   * Returns what a plugin says of itself, or why it cannot be used.
   *
   * @param host finds the API and what plugins may use
   */
  public static PluginDescription of(PluginJars jars, ClassLoader host) {
    Plugins.Loaded plugin;
    try {
      plugin = Plugins.load(jars, host);
    } catch (Plugins.Unfit e) {
      return PluginDescription.unfit(String.valueOf(e.getMessage()));
    }
    try (PluginCode code = plugin.loader().orElseThrow().code()) {
      List<Offer> operations = new ArrayList<>();
      for (Class<?> type : plugin.operations()) {
        Op op = Operations.describe(type);
        operations.add(new Offer(op.id(), op.revision(), op.purpose().name(), type.getName()));
      }
      List<Offer> formats = new ArrayList<>();
      for (ScanFormat format : plugin.formats()) {
        formats.add(
            new Offer(format.id(), format.revision(), "", format.getClass().getName()));
      }
      operations.sort(Comparator.comparing(Offer::id));
      formats.sort(Comparator.comparing(Offer::id));
      return new PluginDescription(
          plugin.id(),
          String.valueOf(plugin.plugin().summary()),
          operations,
          formats,
          plugin.exported(),
          "");
    } catch (LinkageError | RuntimeException e) {
      return PluginDescription.unfit(LoadFailure.words(e));
    }
  }
}
