package org.slabnote.app;

import java.util.concurrent.Callable;
import org.slabnote.engine.run.Toolbox;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** The command without a command: help and version. */
@Command(
    name = "slabnote",
    versionProvider = SlabnoteCommand.Version.class,
    header = "Interpretation notebook for radar scans of concrete.",
    synopsisSubcommandLabel = "COMMAND",
    customSynopsis = {
      "slabnote COMMAND [ARGUMENTS]",
      "      slabnote help COMMAND",
      "      slabnote --version"
    },
    description = {
      "",
      "A job is a folder: job sheet, survey table, scans, proposed cuts, and the notebook "
          + "interpretation.md, whose every figure is computed from the scans. A run writes a record "
          + "beside them; a recheck computes it again and compares.",
      "",
      "Radar never proves absence. Nothing that is printed here permits a cut: that is for the "
          + "engineer of record and those licensed to decide, under the local codes."
    },
    optionListHeading = "%nOptions:%n",
    commandListHeading = "%nCommands:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:done",
      "1:the work says no: a recheck differs, or a record does not tell of the job as it stands",
      "2:wrong use or bad input; nothing was written",
      "3:a fault of ours or of the machine"
    },
    footerHeading = "%nStart:%n",
    footer = {
      "  slabnote new roof-slab --survey passes.csv",
      "  slabnote run roof-slab",
      "  slabnote report roof-slab"
    })
final class SlabnoteCommand implements Callable<Integer> {
  @Spec
  @SuppressWarnings("NullAway.Init") // set by picocli
  private CommandSpec spec;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  @Option(
      names = "--version",
      versionHelp = true,
      description = "Print the versions of Slabnote and of the Java it runs on, and exit.")
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private boolean version;

  @Override
  public Integer call() {
    CommandLine line = spec.commandLine();
    line.usage(line.getErr());
    return Status.WRONG;
  }

  /** Tells the version. */
  static final class Version implements CommandLine.IVersionProvider {
    @Override
    public String[] getVersion() {
      return new String[] {"slabnote " + Toolbox.ownVersion() + " (Java " + Runtime.version() + ")"
      };
    }
  }
}
