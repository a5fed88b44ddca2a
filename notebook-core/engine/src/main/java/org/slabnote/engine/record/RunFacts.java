package org.slabnote.engine.record;

import java.util.List;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.job.PinnedJar;
import org.slabnote.engine.job.PinnedPlugin;

/**
 * All that a complete run did and found, from which the record is worded.
 *
 * @param job the job as it was read
 * @param compiled its cells
 * @param plugins loaded plugins that the run used or could have used, in order of id
 * @param scans how each scan was read, in the order of the survey table
 * @param dataRead names of the csv blocks that each cell read
 * @param steps every step stated, in the order in which they were
 * @param demands what was asked for, in order
 * @param values values of the demanded steps by address; api values
 * @since 0.1
 */
public record RunFacts(
    Job job,
    Compiled compiled,
    List<PluginFact> plugins,
    List<ScanFact> scans,
    SortedMap<String, SortedSet<String>> dataRead,
    List<StepFact> steps,
    List<Demand> demands,
    SortedMap<String, Object> values) {

  /**
   * A plugin.
   *
   * @param id its prefix
   * @param version its version
   * @param jar {@code group:artifact} of its jar; empty for one that comes with Slabnote
   * @param sha256 digest of its jar; empty for one that comes with Slabnote
   * @param libraries digests of the jars pinned with it by their coordinates
   */
  public record PluginFact(
      String id, String version, String jar, String sha256, SortedMap<String, String> libraries) {
    /** Returns a plugin that comes with Slabnote. */
    public static PluginFact bundled(String id, String version) {
      return new PluginFact(id, version, "", "", new TreeMap<>());
    }

    /** Returns a plugin that a job pins. */
    public static PluginFact pinned(PinnedPlugin plugin) {
      PinnedJar own = plugin.own();
      SortedMap<String, String> libraries = new TreeMap<>();
      plugin.jars().stream().skip(1).forEach(jar -> libraries.put(jar.coordinates(), jar.sha256()));
      String jar = own.group().isEmpty() ? own.artifact() : own.group() + ":" + own.artifact();
      return new PluginFact(plugin.id(), own.version(), jar, own.sha256(), libraries);
    }
  }

  /**
   * A scan that was read.
   *
   * @param pass name of the pass
   * @param channel label of the channel
   * @param file as the survey table names it
   * @param format id and revision of the reader
   * @param remarks what the file left open and how it was read
   */
  public record ScanFact(
      String pass, String channel, String file, String format, List<String> remarks) {}
}
