package org.slabnote.worker;

import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Cut;
import org.slabnote.api.JobSheet;
import org.slabnote.api.Survey;
import org.slabnote.api.Table;

/**
 * All that a run needs.
 *
 * @param tape compiled cells, which a gate has let through
 * @param survey survey table
 * @param job job sheet
 * @param cuts proposed cuts
 * @param blocks csv blocks of the notebook by name, as tables of text
 * @param scans scan files, at least those that the survey names
 * @param classPath jars and class folders of the bundled plugins and what they need, absolute; those
 *     of the worker and the API are added where they lack
 * @param plugins plugins of third parties, each to be loaded by itself
 * @param store folder of remembered steps, absolute; made where it lacks
 * @param more addresses of steps to compute beyond what the cells demand: for figures of a front
 *     end. They are in {@link RunOutcome#values} but no demand
 * @param limits threads, memory and time
 * @since 0.1
 */
public record RunRequest(
    Tape tape,
    Survey survey,
    JobSheet job,
    List<Cut> cuts,
    SortedMap<String, Table> blocks,
    List<ScanFile> scans,
    List<String> classPath,
    List<PluginJars> plugins,
    String store,
    List<String> more,
    Limits limits) {

  /**
   * Copies lists and maps.
   *
   * @throws IllegalArgumentException if a scan file stands twice
   */
  public RunRequest {
    cuts = List.copyOf(cuts);
    blocks = Collections.unmodifiableSortedMap(new TreeMap<>(blocks));
    scans = List.copyOf(scans);
    classPath = List.copyOf(classPath);
    plugins = List.copyOf(plugins);
    more = List.copyOf(more);
    Set<String> names = new HashSet<>();
    for (ScanFile scan : scans) {
      if (!names.add(scan.name())) {
        throw new IllegalArgumentException("two scan files " + scan.name() + "; expected one");
      }
    }
  }

  /**
   * A scan file; the worker reads and verifies it.
   *
   * @param name file as the survey table names it
   * @param path where it lies, absolute
   * @param sha256 digest of its bytes, 64 lower-case hexadecimal digits
   */
  public record ScanFile(String name, String path, String sha256) {}

  /**
   * What a run may use. No limit changes a result: a run that meets one has no result.
   *
   * @param threads threads that compute, 1 or more
   * @param megabytes heap of the worker process, 64 or more
   * @param seconds time for the whole run, 1 or more
   */
  public record Limits(int threads, int megabytes, int seconds) {
    /**
     * Checks the ranges.
     *
     * @throws IllegalArgumentException if one is too small
     */
    public Limits {
      if (threads < 1 || megabytes < 64 || seconds < 1) {
        throw new IllegalArgumentException("limits of a run: " + threads + " threads, " + megabytes
            + " MB, " + seconds + " s; expected 1 thread, 64 MB and 1 s or more");
      }
    }

    /** Returns the usual limits: a thread per processor, 2048 MB, one hour. */
    public static Limits usual() {
      return new Limits(Runtime.getRuntime().availableProcessors(), 2048, 3600);
    }
  }
}
