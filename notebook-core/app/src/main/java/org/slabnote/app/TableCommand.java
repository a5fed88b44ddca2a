package org.slabnote.app;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.slabnote.api.Table;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Lists a job's tables or prints one. */
@Command(
    name = "table",
    header = "List the tables of a job's record, or print one as CSV.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "Without NAME: one line for each table, with the number of its rows and its columns.",
      "With NAME: that table as CSV (RFC 4180, UTF-8), units in the column names, and nothing else. "
          + "Nothing is computed: the tables stand in the record.",
      ""
    },
    parameterListHeading = "Arguments:%n",
    optionListHeading = "%nOptions:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:printed",
      "1:the record does not tell of the job as it stands: run it again",
      "2:there is no record, or no table of that name",
      "3:a fault of ours or of the machine"
    },
    footer = {
      "%nFiles:",
      "  reads   JOB/interpretation.record.jsonl, and the files that it was made from",
      "  writes  nothing",
      "",
      "Examples:",
      "  slabnote table roof-slab",
      "  slabnote table roof-slab targets > targets.csv"
    })
final class TableCommand implements Callable<Integer> {
  private final Terminal terminal;
  private final Bench bench;

  @Parameters(index = "0", paramLabel = "JOB", description = "The job folder.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path job;

  @Parameters(
      index = "1",
      arity = "0..1",
      paramLabel = "NAME",
      description = "Name of the table, as the notebook gives it: targets, velocity, ...")
  private @Nullable String name;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  TableCommand(Terminal terminal, Bench bench) {
    this.terminal = terminal;
    this.bench = bench;
  }

  @Override
  public Integer call() throws Exception {
    Records.requireOne(job);
    Map<String, Table> tables = bench.tables(job);
    if (name == null) {
      list(tables);
      return Status.DONE;
    }
    Table table = tables.get(name);
    if (table == null) {
      throw new BadInput(Problem.inFile(
          Job.RECORD,
          0,
          "no table " + name + "; the record has "
              + (tables.isEmpty() ? "none" : String.join(", ", tables.keySet()))
              + ". A notebook makes one with: table(\"" + name + "\", step)"));
    }
    terminal.out().print(table.csv());
    return Status.DONE;
  }

  private void list(Map<String, Table> tables) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("name", "rows", "columns"));
    tables.forEach((key, table) -> rows.add(List.of(
        key,
        Integer.toString(table.rows()),
        String.join(",", table.columns().stream().map(Table.Column::name).toList()))));
    Aligned.lines(rows, 1).forEach(terminal.out()::println);
  }
}
