package org.slabnote.app;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.slabnote.app.create.NewJob;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Makes a job folder. */
@Command(
    name = "new",
    header = "Make a job folder from a survey table and its scans.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "Reads every scan that the survey table names, each against its row, and only then makes the "
          + "folder: whole, or not at all. The scans are copied in.",
      "",
      "The folder holds a job sheet to fill in and a starter notebook: a standard reading of the "
          + "survey, ready to run and to edit.",
      ""
    },
    parameterListHeading = "Arguments:%n",
    optionListHeading = "%nOptions:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:the job folder is there",
      "2:a file is missing or does not serve, or JOB is there already; nothing was written",
      "3:a fault of ours or of the machine"
    },
    footer = {
      "%nFiles:",
      "  reads   the survey table (CSV): a row for each scan file and antenna",
      "          orientation, with the columns",
      "            pass,channel,file,tx_deg,rx_deg,x0_m,y0_m,x1_m,y1_m,",
      "            sample_interval_ns,antenna_offset_m,centre_frequency_mhz",
      "          and where wanted",
      "            time_zero_ns,time_zero_u_ns,balance_db,balance_u_db,",
      "            balance_shift_ns,positions_file,remarks,ragged,header_positions;",
      "          the files it names, relative to it;",
      "          the cuts table (CSV), columns",
      "            name,kind,x_m,y_m,x2_m,y2_m,diameter_m,depth_m,room_m",
      "  writes  JOB/job.toml, survey.csv, cuts.csv, scans/, interpretation.md,",
      "          .gitattributes",
      "",
      "Examples:",
      "  slabnote new roof-slab --survey passes.csv",
      "  slabnote new roof-slab -s passes.csv -c cores.csv -t \"Roof slab, bay 4\""
    })
final class NewCommand implements Callable<Integer> {
  private final Terminal terminal;

  @Parameters(
      paramLabel = "JOB",
      description = "The folder to make. It must not exist, or be empty.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path job;

  @Option(
      names = {"-s", "--survey"},
      required = true,
      paramLabel = "FILE",
      description = "The survey table.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path survey;

  @Option(
      names = {"-c", "--cuts"},
      paramLabel = "FILE",
      description = "The proposed cuts.")
  private @Nullable Path cuts;

  @Option(
      names = {"-t", "--title"},
      paramLabel = "TEXT",
      description = "Title of the job; the name of the folder where it is left out.")
  private @Nullable String title;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  NewCommand(Terminal terminal) {
    this.terminal = terminal;
  }

  @Override
  public Integer call() throws Exception {
    int scans;
    try (Progress progress = new Progress(terminal)) {
      scans = new NewJob(job, survey, Optional.ofNullable(cuts), Optional.ofNullable(title))
          .make(progress::stage);
    }
    terminal.out().println("Job: " + job + " (" + scans + (scans == 1 ? " scan)" : " scans)"));
    terminal
        .out()
        .println("Fill in " + job.resolve("job.toml") + ": the question, the slab, the "
            + "required clearances.");
    terminal.out().println("Then:  slabnote run " + job);
    return Status.DONE;
  }
}
