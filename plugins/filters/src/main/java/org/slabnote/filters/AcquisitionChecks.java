package org.slabnote.filters;

import java.util.ArrayList;
import java.util.List;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Orientation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Role;
import org.slabnote.api.Scan;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Table;
import org.slabnote.api.Work;

/**
 * Checks how the scans were taken, each scan by itself and against its neighbours.
 *
 * <p>One row per scan and check: {@code pass, channel, check, value, unit, limit, verdict, remark}; the
 * verdict is {@code within limit}, {@code flagged} or {@code not measured}. A flag is a question to
 * whoever took the scans; the lack of one proves nothing. Checked are:
 *
 * <ul>
 *   <li>time-zero drift: span of the direct wave's time over the traces; and between passes
 *   <li>direct wave over noise, dB
 *   <li>spectrum of the direct wave against the stated centre frequency (a factor of 2 either way)
 *       and between passes of the across antenna: a wrong sample interval shows here
 *   <li>dead traces (constant, or less than a tenth of the energy around them) and copied traces
 *       (equal to the one before)
 *   <li>clipping: flat tops of three samples or more near full scale, outside the direct wave and in
 *       it
 *   <li>samples in a period (6 or more), trace spacing (a quarter of the wavelength at permittivity
 *       8), largest step between traces
 *   <li>second orientation: whether each pass has an across and an along scan
 *   <li>direction: whether a pass resembles both its nearest parallel neighbours more when turned
 *       round. Of two passes alone the scans cannot say which is reversed; a symmetric slab shows
 *       nothing
 * </ul>
 *
 * <p>Scans are those read from the files: any treatment is refused, since it hides what is looked
 * for. Comparisons between passes need three of a channel. Source: limits and checks are common
 * practice, no source; sampling rules from textbooks, from memory. Check: AcquisitionChecksTest, one
 * invented fault at a time.
 *
 * @param across scans of the across antenna
 * @param along scans of the along antenna; none where the survey has none
 * @param limits limits beyond which a scan is flagged
 * @since 0.1
 */
@Op(id = "filters.acquisition-checks", revision = 1, purpose = Purpose.ACQUISITION)
public record AcquisitionChecks(
    @Role(Orientation.ACROSS) Steps<Scan> across,
    @Role(Orientation.ALONG) Steps<Scan> along,

    @Param(meaning = "limits beyond which a scan is flagged")
    AcquisitionLimits limits)
    implements Operation<Table> {

  /** Checks with the usual limits. */
  public AcquisitionChecks(Steps<Scan> across, Steps<Scan> along) {
    this(across, along, AcquisitionLimits.usual());
  }

  @Override
  public Table apply(Work work) {
    CheckRows rows = new CheckRows();
    List<Scan> acrossScans = scans(across);
    List<Scan> alongScans = scans(along);
    check(acrossScans, rows, work);
    check(alongScans, rows, work);
    secondOrientation(acrossScans, alongScans, rows);
    work.progress(1);
    return rows.table();
  }

  private static List<Scan> scans(Steps<Scan> steps) {
    List<Scan> scans = new ArrayList<>();
    for (Step<Scan> step : steps.list()) {
      Scan scan = step.get();
      if (!scan.history().isEmpty()) {
        throw new IllegalArgumentException(
            "filters.acquisition-checks: scan " + scan.pass() + ", channel " + scan.channel()
                + ": treated by " + scan.history().get(0)
                + "; expected the scan as read, since a treatment hides what is looked for");
      }
      scans.add(scan);
    }
    return scans;
  }

  private void check(List<Scan> scans, CheckRows rows, Work work) {
    ScanHealth[] health = new ScanHealth[scans.size()];
    work.forEach(health.length, i -> health[i] = ScanHealth.of(scans.get(i), work));
    for (int i = 0; i < health.length; i++) {
      health[i].rows(scans.get(i), limits, rows);
    }
    PassComparison comparison = new PassComparison(scans, List.of(health), limits);
    comparison.directWaves(rows);
    comparison.directions(rows, work);
  }

  private static void secondOrientation(List<Scan> across, List<Scan> along, CheckRows rows) {
    if (across.isEmpty() || along.isEmpty()) {
      if (!across.isEmpty() || !along.isEmpty()) {
        rows.add(
            "all",
            across.isEmpty() ? "along" : "across",
            "second orientation",
            1,
            "1",
            2,
            CheckRows.FLAGGED,
            "one orientation only: metal and non-metal are not told apart by it");
      }
      return;
    }
    lacking(across, along, "along", rows);
    lacking(along, across, "across", rows);
  }

  private static void lacking(List<Scan> these, List<Scan> those, String word, CheckRows rows) {
    for (Scan scan : these) {
      boolean there = those.stream().anyMatch(o -> o.pass().equals(scan.pass()));
      rows.add(
          scan,
          "second orientation",
          there ? 2 : 1,
          "1",
          2,
          !there,
          there ? "" : "this pass has no " + word + " scan");
    }
  }
}
