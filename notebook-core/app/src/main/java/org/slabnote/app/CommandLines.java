package org.slabnote.app;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;
import picocli.CommandLine;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.MissingParameterException;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.OverwrittenOptionException;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;

/** The command line with all commands, its messages and its exit statuses. */
final class CommandLines {
  private CommandLines() {}

  static CommandLine of(Terminal terminal, Bench bench) {
    CommandLine line = new CommandLine(new SlabnoteCommand())
        .addSubcommand(new NewCommand(terminal))
        .addSubcommand(new RunCommand(terminal, bench))
        .addSubcommand(new StatusCommand(terminal, bench))
        .addSubcommand(new RecheckCommand(terminal, bench))
        .addSubcommand(new TableCommand(terminal, bench))
        .addSubcommand(new ReportCommand(terminal, bench))
        .addSubcommand(PluginCommand.with(terminal, bench))
        .addSubcommand(StoreCommand.with(terminal, bench))
        .addSubcommand(new OpenCommand())
        .addSubcommand(new CommandLine.HelpCommand());
    Objects.requireNonNull(line.getSubcommands().get("help"), "added above")
        .getCommandSpec()
        .usageMessage()
        .header("Show the help of a command.");
    line.setOut(new PrintWriter(terminal.out(), true, StandardCharsets.UTF_8));
    line.setErr(new PrintWriter(terminal.err(), true, StandardCharsets.UTF_8));
    line.setColorScheme(CommandLine.Help.defaultColorScheme(terminal.bold() ? Ansi.ON : Ansi.OFF));
    line.setUsageHelpWidth(Math.min(100, terminal.width()));
    line.setUsageHelpAutoWidth(false);
    line.setAbbreviatedOptionsAllowed(false);
    line.setParameterExceptionHandler((thrown, arguments) -> misused(terminal, thrown));
    line.setExecutionExceptionHandler((thrown, command, parsed) -> Faults.tell(terminal, thrown));
    return line;
  }

  private static int misused(Terminal terminal, ParameterException thrown) {
    CommandLine command = thrown.getCommandLine();
    String name = command.getCommandSpec().qualifiedName();
    terminal
        .err()
        .println(name + ": " + words(thrown) + ". See what it takes: " + name + " --help");
    return Status.WRONG;
  }

  private static String words(ParameterException thrown) {
    if (thrown instanceof UnmatchedArgumentException unmatched) {
      String first = unmatched.getUnmatched().get(0);
      if (unmatched.isUnknownOption()) {
        return first + " is no option of this command";
      }
      CommandLine command = thrown.getCommandLine();
      List<String> names = List.copyOf(command.getSubcommands().keySet());
      if (names.isEmpty()) {
        return first + " is one argument too many";
      }
      String all = String.join(", ", names.subList(0, names.size() - 1)) + " or "
          + names.get(names.size() - 1);
      return first
          + (command.getParent() == null ? " is no command" : " is none of its commands")
          + "; expected " + all;
    }
    if (thrown instanceof OverwrittenOptionException twice
        && twice.getOverwritten() instanceof OptionSpec option) {
      return option.longestName() + " is given twice; expected once";
    }
    if (thrown instanceof MissingParameterException missing) {
      return String.join(
              " and ",
              missing.getMissing().stream()
                  .map(one -> one.isOption()
                      ? ((OptionSpec) one).longestName() + " " + one.paramLabel()
                      : one.paramLabel())
                  .toList())
          + (missing.getMissing().size() == 1 ? " is missing" : " are missing");
    }
    String message = String.valueOf(thrown.getMessage());
    return message.endsWith(".") ? message.substring(0, message.length() - 1) : message;
  }
}
