package org.slabnote.app;

import picocli.CommandLine.Option;

/** The option that every command has. */
final class HelpOption {
  @Option(
      names = {"-h", "--help"},
      usageHelp = true,
      description = "Show this help and exit.")
  @SuppressWarnings("UnusedVariable") // picocli reads it
  private boolean help;
}
