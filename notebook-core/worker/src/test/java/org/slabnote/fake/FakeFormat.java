package org.slabnote.fake;

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

/** Text: {@code FAKE traces samples first}; sample k is first + k mod 7. */
final class FakeFormat implements ScanFormat {
  @Override
  public String id() {
    return "fake.text";
  }

  @Override
  public int revision() {
    return 1;
  }

  @Override
  public boolean recognises(String file, byte[] head) {
    return new String(head, StandardCharsets.US_ASCII).startsWith("FAKE ");
  }

  @Override
  public Scan read(byte[] bytes, SurveyRow row) {
    String[] words = new String(bytes, StandardCharsets.US_ASCII).strip().split(" ");
    if (words.length < 4) {
      throw new ScanFileException(
          row.file(),
          "byte " + bytes.length,
          "the file is cut short: copy it again from its source");
    }
    int traces = Integer.parseInt(words[1]);
    int count = Integer.parseInt(words[2]);
    float[] samples = new float[traces * count];
    for (int i = 0; i < samples.length; i++) {
      samples[i] = Integer.parseInt(words[3]) + i % 7;
    }
    return new Scan(
        row.pass(),
        row.channel(),
        row.antenna(),
        new TimeAxis(new TimeSpan(0), row.interval(), count),
        row.track(traces),
        Samples.of(samples),
        row.surface(),
        Optional.empty(),
        List.of());
  }
}
