package org.slabnote.app;

import java.lang.reflect.InvocationTargetException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Fault;
import org.slabnote.engine.problem.Problem;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Opens a job in the window. */
@Command(
    name = "open",
    header = "Open a job in a window.",
    synopsisHeading = "%nUsage: ",
    description = {
      "",
      "Shows the notebook with its prose, cells and figures, and the plan of the slab. Nothing runs "
          + "until it is asked for. The window changes interpretation.md only, when it is saved.",
      ""
    },
    parameterListHeading = "Arguments:%n",
    optionListHeading = "%nOptions:%n",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:the window was closed",
      "2:there is no such job",
      "3:a fault of ours or of the machine: no display, say"
    },
    footer = {
      "%nFiles:",
      "  reads   all files of the job",
      "  writes  JOB/interpretation.md when saved; the record when the notebook is run",
      "",
      "Example:",
      "  slabnote open roof-slab"
    })
final class OpenCommand implements Callable<Integer> {
  /** By name: the commands without a window must not load JavaFX. */
  private static final String WINDOW = "org.slabnote.desktop.DesktopLauncher";

  @Parameters(paramLabel = "JOB", description = "The job folder.")
  @SuppressWarnings("NullAway.Init") // set by picocli
  private Path job;

  @Mixin
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private final HelpOption help = new HelpOption();

  @Override
  public Integer call() throws Exception {
    if (!Files.exists(job.resolve(Job.NOTEBOOK))) {
      throw new BadInput(Problem.inFile(
          job.toString(),
          0,
          "there is no " + Job.NOTEBOOK + " in it; expected a job folder. Make one with: "
              + "slabnote new JOB --survey FILE"));
    }
    try {
      Class.forName(WINDOW).getMethod("open", Path.class).invoke(null, job);
    } catch (InvocationTargetException e) {
      if (e.getCause() instanceof Exception cause) {
        throw cause;
      }
      throw e;
    } catch (ReflectiveOperationException | LinkageError e) {
      throw new Fault(
          "the window cannot be opened: " + e
              + ". Install Slabnote again, with the jars of the window",
          e);
    }
    return Status.DONE;
  }
}
