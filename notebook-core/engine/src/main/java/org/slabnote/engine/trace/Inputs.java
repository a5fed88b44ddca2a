package org.slabnote.engine.trace;

import java.nio.charset.StandardCharsets;
import java.util.Collections;
import java.util.List;
import java.util.Objects;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Cut;
import org.slabnote.api.JobSheet;
import org.slabnote.api.Survey;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.job.CsvBlock;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.BadInput;

/**
 * All that a run depends on, in short.
 *
 * @param sheet the job sheet
 * @param survey the survey table
 * @param cuts the proposed cuts
 * @param files SHA-256 of every file of the job but the notebook, by name: {@code scans/E01.sgy}
 * @param blocks digest of the csv blocks as tables, by name
 * @param texts SHA-256 of the text of cells and csv blocks, by name, as the record has them
 * @param cells names of the cells, in order
 * @param statements their statements, in order
 * @param plugins the plugins by id
 * @param libraries digest of all else that computes
 */
record Inputs(
    JobSheet sheet,
    Survey survey,
    List<Cut> cuts,
    SortedMap<String, String> files,
    SortedMap<String, String> blocks,
    SortedMap<String, String> texts,
    List<String> cells,
    List<Stated> statements,
    SortedMap<String, PluginMark> plugins,
    String libraries) {
  Inputs {
    cuts = List.copyOf(cuts);
    files = Collections.unmodifiableSortedMap(new TreeMap<>(files));
    blocks = Collections.unmodifiableSortedMap(new TreeMap<>(blocks));
    texts = Collections.unmodifiableSortedMap(new TreeMap<>(texts));
    cells = List.copyOf(cells);
    statements = List.copyOf(statements);
    plugins = Collections.unmodifiableSortedMap(new TreeMap<>(plugins));
  }

  /** The inputs of a job with these statements. */
  static Inputs of(Job job, List<Stated> statements, Marks marks) {
    SortedMap<String, String> files = new TreeMap<>(job.digests());
    job.scans().values().forEach(scan -> files.put(Job.SCANS + "/" + scan.name(), scan.sha256()));
    SortedMap<String, String> blocks = new TreeMap<>();
    SortedMap<String, String> texts = new TreeMap<>();
    for (Block block : job.notebook().blocks()) {
      if (block instanceof Block.Named named) {
        texts.put(named.name(), sha256(named.source()));
      }
      if (block instanceof Block.Data data) {
        blocks.put(data.name(), table(data));
      }
    }
    return new Inputs(
        job.sheet(),
        job.survey(),
        job.cuts(),
        files,
        blocks,
        texts,
        job.notebook().cells().stream().map(Block.Cell::name).toList(),
        statements,
        marks.plugins(),
        marks.libraries());
  }

  private static String table(Block.Data data) {
    try {
      return Canonical.digest(CsvBlock.parse(Job.NOTEBOOK, data));
    } catch (BadInput bad) {
      return sha256(data.source()); // a run will tell what is wrong with it
    }
  }

  private static String sha256(String text) {
    return Canonical.sha256(text.getBytes(StandardCharsets.UTF_8));
  }

  /** The same with other statements. */
  Inputs with(List<Stated> other) {
    return new Inputs(sheet, survey, cuts, files, blocks, texts, cells, other, plugins, libraries);
  }

  /** Whether nothing at all is another, the statements apart. */
  boolean same(Inputs other) {
    return equals(other.with(statements));
  }

  /** Whether the two have the same cells, text for text, in the same order. */
  boolean sameCells(Inputs other) {
    return cells.equals(other.cells)
        && cells.stream().allMatch(cell -> Objects.equals(texts.get(cell), other.texts.get(cell)));
  }
}
