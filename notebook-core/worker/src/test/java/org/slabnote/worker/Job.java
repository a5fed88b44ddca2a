package org.slabnote.worker;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Antenna;
import org.slabnote.api.JobSheet;
import org.slabnote.api.Point;
import org.slabnote.api.Survey;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.Table;
import org.slabnote.api.codec.Canonical;
import org.slabnote.api.quantity.Angle;
import org.slabnote.api.quantity.Frequency;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.worker.RunRequest.Limits;
import org.slabnote.worker.RunRequest.ScanFile;

/** A small job in a folder: passes E01 and E02, across and along. */
public final class Job {
  private final Path folder;
  private final List<SurveyRow> rows = new ArrayList<>();
  private final List<ScanFile> files = new ArrayList<>();
  private final SortedMap<String, Table> blocks = new TreeMap<>();
  private Limits limits = new Limits(2, 512, 60);
  private List<String> more = List.of();
  private List<PluginJars> plugins = List.of();

  /** Makes the scans. */
  public Job(Path folder) throws IOException {
    this.folder = folder;
    scan("E01", "a", 90, "FAKE 3 4 10");
    scan("E01", "b", 0, "FAKE 3 4 20");
    scan("E02", "a", 90, "FAKE 5 2 30");
    scan("E02", "b", 0, "FAKE 5 2 40");
  }

  /** Adds a scan file and its row. */
  public Job scan(String pass, String channel, double deg, String content) throws IOException {
    String name = pass + channel + ".txt";
    byte[] bytes = content.getBytes(StandardCharsets.US_ASCII);
    Path file = Files.write(folder.resolve(name), bytes);
    files.add(new ScanFile(name, file.toString(), Canonical.sha256(bytes)));
    rows.add(new SurveyRow(
        pass,
        channel,
        name,
        new Antenna(new Angle(deg), new Angle(deg), new Length(0.06), new Frequency(2000)),
        new Point(new Length(0), new Length(0)),
        new Point(new Length(1), new Length(0)),
        new TimeSpan(0.1),
        Optional.empty(),
        Optional.empty(),
        new TreeMap<>()));
    return this;
  }

  /** Adds a csv block of text. */
  public Job block(String name, Table table) {
    blocks.put(name, table);
    return this;
  }

  /** Sets the limits. */
  public Job limits(int threads, int megabytes, int seconds) {
    limits = new Limits(threads, megabytes, seconds);
    return this;
  }

  /** Asks for more steps. */
  public Job more(String... addresses) {
    more = List.of(addresses);
    return this;
  }

  /** Adds plugins of third parties. */
  public Job plugins(PluginJars... others) {
    plugins = List.of(others);
    return this;
  }

  /** Returns the store's folder. */
  public Path store() {
    return folder.resolve("store");
  }

  /** Returns the request. */
  public RunRequest request(TapeMaker cells) {
    return new RunRequest(
        cells.tape(),
        new Survey(rows),
        new JobSheet("title", "question", Optional.empty(), new TreeMap<>(), new TreeMap<>()),
        List.of(),
        blocks,
        files,
        List.of(System.getProperty("java.class.path").split(java.io.File.pathSeparator)),
        plugins,
        store().toString(),
        more,
        limits);
  }
}
