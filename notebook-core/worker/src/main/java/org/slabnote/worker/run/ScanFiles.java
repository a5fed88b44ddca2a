package org.slabnote.worker.run;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import org.slabnote.api.Scan;
import org.slabnote.api.ScanFileException;
import org.slabnote.api.ScanFormat;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.RunOutcome.ScanFact;
import org.slabnote.worker.RunRequest.ScanFile;

/** The scan files of the survey: recognised at the start, read and verified when a step needs one. */
final class ScanFiles {
  /**
   * A scan that was read.
   *
   * @param scan the scan
   * @param remarks what its format remarks on the file, in words
   */
  record Read(Scan scan, List<String> remarks) {}

  private static final int HEAD = 4096;

  private final Map<String, ScanFile> files = new HashMap<>();
  private final Plugins plugins;
  private final Map<SurveyRow, ScanFormat> formatOf = new HashMap<>();

  ScanFiles(List<ScanFile> files, Plugins plugins) {
    files.forEach(file -> this.files.put(file.name(), file));
    this.plugins = plugins;
  }

  /**
   * Finds the format of a row's file: the first bundled one that recognises it, in order of id, or
   * else the one of a third party.
   *
   * @throws ScanFileException if the file is not there, no format recognises it, or two third
   *     parties' do
   * @throws PluginFault if a third party's throws
   */
  ScanFact recognise(SurveyRow row) {
    ScanFile file = file(row);
    byte[] head;
    try (InputStream in = Files.newInputStream(Path.of(file.path()))) {
      head = in.readNBytes(HEAD);
    } catch (IOException e) {
      throw unreadable(row, e);
    }
    Optional<ScanFormat> found = recognised(row, head);
    if (found.isPresent()) {
      ScanFormat format = found.get();
      formatOf.put(row, format);
      return new ScanFact(
          Graph.address(row), row.file(), format.id(), format.revision(), List.of());
    }
    List<String> known = new ArrayList<>();
    plugins.formats().forEach(format -> known.add(format.id()));
    throw new ScanFileException(
        row.file(),
        "",
        head.length == 0
            ? "the file is empty. Copy it again from its source"
            : "no format recognises it; known are "
                + (known.isEmpty() ? "none" : String.join(", ", known))
                + ". Export it from the instrument in one of these, or add a plugin that reads it");
  }

  private Optional<ScanFormat> recognised(SurveyRow row, byte[] head) {
    Optional<ScanFormat> found = Optional.empty();
    for (ScanFormat format : plugins.formats()) {
      boolean bundled = plugins.thirdParty(format.getClass()).isEmpty();
      if (ask(format, row, () -> format.recognises(row.file(), head.clone()))) {
        if (bundled) {
          return Optional.of(format);
        }
        if (found.isPresent()) {
          throw new ScanFileException(
              row.file(),
              "",
              "two formats recognise it, " + named(found.get()) + " and " + named(format)
                  + "; expected one. Give one of the two plugins up");
        }
        found = Optional.of(format);
      }
    }
    return found;
  }

  /** Asks a format something; whatever else than a message about the file it throws is its fault. */
  private <T> T ask(ScanFormat format, SurveyRow row, Supplier<T> question) {
    if (plugins.thirdParty(format.getClass()).isEmpty()) {
      return question.get();
    }
    try {
      return question.get();
    } catch (ScanFileException e) {
      throw e;
    } catch (RuntimeException | LinkageError | StackOverflowError e) {
      throw new PluginFault(
          named(format) + ", asked about " + row.file() + ", throws "
              + e.getClass().getSimpleName()
              + (e.getMessage() == null ? "" : ": " + e.getMessage()) + Blame.FAULT_OF_PLUGIN,
          e);
    }
  }

  private String named(ScanFormat format) {
    return format.id()
        + plugins.thirdParty(format.getClass()).map(one -> " of " + one.title()).orElse("");
  }

  /** Returns the format of a row that was recognised. */
  ScanFormat format(SurveyRow row) {
    ScanFormat format = formatOf.get(row);
    if (format == null) {
      throw new IllegalStateException(row.file() + " was not recognised before it is read");
    }
    return format;
  }

  /** Returns the size of a row's file; 0 where it cannot be told. */
  long size(SurveyRow row) {
    try {
      return Files.size(Path.of(file(row).path()));
    } catch (IOException e) {
      return 0; // told when it is read
    }
  }

  /** Returns the digest that the bytes of a row's file must have. */
  String digest(SurveyRow row) {
    return file(row).sha256();
  }

  /**
   * Reads a scan.
   *
   * @throws ScanFileException if the file changed since it was listed, or cannot be read as it
   *     stands
   */
  Read read(SurveyRow row) {
    return read(row, format(row));
  }

  /** Reads a scan by a format that is given. */
  Read read(SurveyRow row, ScanFormat format) {
    byte[] bytes = bytes(row);
    Scan scan = format.read(bytes, row);
    if (!scan.pass().equals(row.pass()) || !scan.channel().equals(row.channel())) {
      throw new IllegalStateException(format.id() + " gives pass " + scan.pass() + ", channel "
          + scan.channel() + " for pass " + row.pass() + ", channel " + row.channel() + " of "
          + row.file());
    }
    return new Read(scan, List.copyOf(format.remarks(bytes, row)));
  }

  /**
   * Returns what the format remarks on a file, in words.
   *
   * @throws ScanFileException if the file changed since it was listed, or cannot be read as it
   *     stands
   */
  List<String> remarks(SurveyRow row) {
    ScanFormat format = format(row);
    byte[] bytes = bytes(row);
    return ask(format, row, () -> List.copyOf(format.remarks(bytes, row)));
  }

  private byte[] bytes(SurveyRow row) {
    byte[] bytes;
    try {
      bytes = Files.readAllBytes(Path.of(file(row).path()));
    } catch (IOException e) {
      throw unreadable(row, e);
    }
    if (!Canonical.sha256(bytes).equals(file(row).sha256())) {
      throw new ScanFileException(
          row.file(), "", "the file changed while the run was going on. Run again");
    }
    return bytes;
  }

  private ScanFile file(SurveyRow row) {
    ScanFile file = files.get(row.file());
    if (file == null) {
      throw new ScanFileException(
          row.file(),
          "",
          "the survey table names it for pass " + row.pass()
              + ", but it is not among the scans. Copy it there, or take the row out");
    }
    return file;
  }

  private static ScanFileException unreadable(SurveyRow row, IOException e) {
    String why = e instanceof NoSuchFileException
        ? "it is not there any more. Copy it again from its source"
        : "it cannot be opened (" + e.getMessage() + "). Check its permissions";
    return new ScanFileException(row.file(), "", why);
  }
}
