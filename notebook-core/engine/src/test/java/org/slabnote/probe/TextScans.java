package org.slabnote.probe;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.ScanFileException;
import org.slabnote.api.ScanFormat;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.quantity.TimeSpan;

/** A trace a line, samples separated by spaces, after a line {@code probe SAMPLES}. */
public final class TextScans implements ScanFormat {
  @Override
  public String id() {
    return "probe.text";
  }

  @Override
  public int revision() {
    return 1;
  }

  @Override
  public boolean recognises(String file, byte[] head) {
    return new String(head, StandardCharsets.UTF_8).startsWith("probe ");
  }

  @Override
  public Scan read(byte[] bytes, SurveyRow row) {
    Tally.count("read " + row.pass());
    List<String> lines = new String(bytes, StandardCharsets.UTF_8).lines().toList();
    int count = Integer.parseInt(lines.get(0).split(" ")[1]);
    float[][] traces = new float[lines.size() - 1][];
    for (int i = 0; i < traces.length; i++) {
      String[] words = lines.get(i + 1).split(" ");
      if (words.length != count) {
        throw new ScanFileException(
            row.file(),
            "trace " + (i + 1),
            count + " samples expected, the line has " + words.length
                + ". The file is cut short: copy it again from its source");
      }
      traces[i] = new float[count];
      for (int j = 0; j < count; j++) {
        traces[i][j] = Float.parseFloat(words[j]);
      }
    }
    return new Scan(
        row.pass(),
        row.channel(),
        row.antenna(),
        new TimeAxis(new TimeSpan(0), row.interval(), count),
        row.track(traces.length),
        Samples.ofTraces(traces),
        row.surface(),
        Optional.empty(),
        List.of());
  }

  @Override
  public List<String> remarks(byte[] bytes, SurveyRow row) {
    return List.of("read as text");
  }
}
