package org.slabnote.engine.run;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.codec.Canonical;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.document.Block;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import org.slabnote.engine.record.RecordReader;
import org.slabnote.engine.trace.Marks;
import org.slabnote.engine.trace.OutOfDate;
import org.slabnote.engine.trace.Trace;
import org.slabnote.engine.trace.TraceFiles;
import org.slabnote.engine.trace.Why;

/**
 * Keeps the trace of a job's last complete run, in memory and in the cache folder, and compares it with
 * the job as it stands. Nothing that a run computes depends on it.
 */
final class Standings {
  private static final Pattern MISSING =
      Pattern.compile("cannot find symbol: (?:class|variable|method) (\\w+)");

  /** Compiles the cells of a job. */
  interface Compiler {
    Compiled compile(Job job) throws BadInput;
  }

  private final TraceFiles files;
  private final Toolbox toolbox;
  private final Compiler compiler;
  private @Nullable Trace last;
  private List<OutOfDate.Stale> why = List.of();

  Standings(Path cache, Path folder, Toolbox toolbox, Compiler compiler) {
    files = new TraceFiles(cache, folder);
    this.toolbox = toolbox;
    this.compiler = compiler;
  }

  /** The trace of the last complete run, of this session or of one before it. */
  private synchronized Optional<Trace> last() {
    if (last == null) {
      last = files.last().orElse(null);
    }
    return Optional.ofNullable(last);
  }

  /** Gets ready, beside a run that begins, for what its end needs. */
  CompletableFuture<Marks> expect(Job job) {
    return CompletableFuture.supplyAsync(() -> {
      last();
      return ClassPathMarks.of(toolbox, job);
    });
  }

  /**
   * Takes over a complete run, and says why it computed what it did.
   *
   * @param marks what computed, as it was when the run began
   */
  synchronized void completed(Prepared prepared, Computed computed, Marks marks, byte[] record) {
    String sha256 = Canonical.sha256(record);
    boolean same = last().filter(one -> one.isOf(prepared.job(), marks, sha256)).isPresent();
    if (same && computed.computed().isEmpty()) {
      why = List.of();
      return;
    }
    Trace now = Trace.of(prepared.job(), computed.anatomy(), computed.outcome(), marks, sha256);
    why = Why.of(last(), now, computed.computed());
    last = now;
    files.keep(now);
  }

  /** Notes that the record of the last complete run was written. */
  synchronized void recorded() {
    files.recorded();
  }

  /** Why the steps of the last complete run were computed and not remembered, by cell. */
  synchronized List<OutOfDate.Stale> why() {
    return why;
  }

  /** What is out of date since the last complete run; empty where none is known. */
  Optional<OutOfDate> outOfDate(Job job) {
    return last().map(trace -> compared(trace, job, new ArrayList<>()));
  }

  private OutOfDate compared(Trace trace, Job job, List<Problem> problems) {
    Marks marks = ClassPathMarks.of(toolbox, job);
    Optional<Compiled> compiled = Optional.empty();
    if (!trace.sameCells(job)) {
      try {
        compiled = Optional.of(compiler.compile(job));
      } catch (BadInput bad) {
        problems.addAll(bad.problems()); // what the edit reaches is told by the text alone
      }
    }
    return trace.outOfDate(job, compiled, marks);
  }

  /**
   * How the record stands to the job.
   *
   * @throws BadInput if the record was damaged or changed by hand
   */
  Standing standing(Job job) throws BadInput {
    if (!Files.exists(job.folder().resolve(Job.RECORD))) {
      return new Standing(
          false,
          OutOfDate.NOTHING,
          List.of("there is no record yet: no run of the job was complete"),
          List.of());
    }
    RecordReader reader = RecordReader.open(job.folder());
    List<Problem> problems = new ArrayList<>();
    Optional<OutOfDate> compared = files
        .recorded(Canonical.sha256(reader.files().record()))
        .map(trace -> compared(trace, job, problems));
    if (compared.isPresent()) {
      OutOfDate found = compared.get();
      return new Standing(found.isNothing(), found, found.beside(), problems);
    }
    List<String> words = new ArrayList<>(plugins(reader, job));
    try {
      reader.requireMatch(job);
    } catch (BadInput bad) {
      bad.problems().forEach(one -> words.add(one.message().replace(". Run the job again", "")));
    }
    boolean upToDate = words.isEmpty();
    if (!upToDate) {
      words.add(
          "the run that gave this record is not remembered here: which cells and steps hang on "
              + "that can be told after the next run");
    }
    return new Standing(upToDate, OutOfDate.NOTHING, words, problems);
  }

  private List<String> plugins(RecordReader reader, Job job) {
    List<String> words = new ArrayList<>();
    Marks marks = ClassPathMarks.of(toolbox, job);
    reader.facts("plugin").forEach(fact -> {
      String id = fact.path("plugin").asText();
      String before = fact.path("version").asText();
      if (!marks.plugins().containsKey(id)) {
        words.add("plugin " + id + " is gone");
      } else if (!marks.plugins().get(id).version().equals(before)) {
        words.add("plugin " + id + " changed (" + before + " -> "
            + marks.plugins().get(id).version() + ")");
      }
    });
    return words;
  }

  /** A name that is missing because its cell is gone is told with the cell that defined it. */
  List<Problem> withFormerDefinitions(List<Problem> problems, Job job) {
    Optional<Trace> trace = last();
    if (trace.isEmpty()) {
      return problems;
    }
    Set<String> cells = job.notebook().cells().stream()
        .map(Block.Cell::name)
        .collect(java.util.stream.Collectors.toSet());
    List<Problem> told = new ArrayList<>();
    for (Problem one : problems) {
      Matcher missing = MISSING.matcher(one.message());
      Optional<String> cell =
          missing.lookingAt() ? trace.get().definedIn(missing.group(1)) : Optional.empty();
      told.add(
          cell.isEmpty()
              ? one
              : new Problem(
                  one.kind(),
                  one.file(),
                  one.line(),
                  one.cell(),
                  one.message() + ". In the last complete run cell `" + cell.get()
                      + "` defined it"
                      + (cells.contains(cell.get()) ? "" : ", which is gone")));
    }
    return told;
  }
}
