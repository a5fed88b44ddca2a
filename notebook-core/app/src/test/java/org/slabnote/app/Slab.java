package org.slabnote.app;

import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.dB;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.ratio;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.slabnote.api.Antenna;
import org.slabnote.api.Orientation;
import org.slabnote.api.Scan;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.Work;
import org.slabnote.engine.job.SurveyTable;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.formats.SegyFormat;
import org.slabnote.forward.Concrete;
import org.slabnote.forward.Instrument;
import org.slabnote.forward.Node;
import org.slabnote.forward.RayScan;
import org.slabnote.forward.SlabModel;

/** A small invented slab, its survey tables and scans: two bars, 180 mm thick, permittivity 7. */
public final class Slab {
  /** The columns of a survey table. */
  public static final String HEAD = "pass,channel,file,tx_deg,rx_deg,x0_m,y0_m,x1_m,y1_m,"
      + "sample_interval_ns,antenna_offset_m,centre_frequency_mhz\n";

  /** One pass with both orientations. */
  public static final String ONE_PASS = HEAD
      + "E01,across,E01a.sgy,90,90,0,0.3,0.6,0.3,0.04,0.06,2000\n"
      + "E01,along,E01b.sgy,0,0,0,0.3,0.6,0.3,0.04,0.06,2000\n";

  private static final int TRACES = 61;
  private static final int SAMPLES = 200;

  private Slab() {}

  /** Writes a survey table and its scans into a folder; returns the table's file. */
  public static Path survey(Path folder, String table) throws IOException, BadInput {
    Path survey = folder.resolve("passes.csv");
    Files.writeString(survey, table);
    for (SurveyRow row : SurveyTable.parse("passes.csv", table).rows()) {
      Scan scan =
          new RayScan(model(), modelled(row), TRACES, SAMPLES, 7).apply(Work.serial("test"));
      Path file = folder.resolve(row.file());
      Files.createDirectories(file.getParent());
      Files.write(file, SegyFormat.write(scan, List.of("INVENTED DATA")));
    }
    return survey;
  }

  /** The rays know across and along only; a file does not tell dipoles, so any scan serves for others. */
  private static SurveyRow modelled(SurveyRow row) {
    Orientation orientation = row.antenna().orientation();
    if (orientation == Orientation.ACROSS || orientation == Orientation.ALONG) {
      return row;
    }
    Antenna across =
        new Antenna(deg(90), deg(90), row.antenna().separation(), row.antenna().centre());
    return new SurveyRow(
        row.pass(),
        row.channel(),
        row.file(),
        across,
        row.start(),
        row.end(),
        row.interval(),
        row.surface(),
        row.balance(),
        row.extra());
  }

  private static SlabModel model() {
    Concrete concrete = new Concrete(ratio(7), ratio(0.01), ratio(0.02), mm(180));
    Instrument instrument =
        new Instrument(MHz(2000), ns(0.8), ns(0), dB(0), ns(0), dB(6), dB(-50), dB(-40));
    return SlabModel.of(concrete, instrument)
        .metal("a", mm(12), Node.of(0.3, -1, 0.050), Node.of(0.3, 2, 0.050))
        .metal("b", mm(12), Node.of(-1, 0.2, 0.065), Node.of(2, 0.2, 0.065))
        .build();
  }
}
