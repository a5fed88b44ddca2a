package org.slabnote.speed;

import com.sun.management.OperatingSystemMXBean;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.slabnote.api.Filter;
import org.slabnote.api.JobSheet;
import org.slabnote.api.Scan;
import org.slabnote.api.Survey;
import org.slabnote.api.codec.Canonical;
import org.slabnote.testkit.TestWork;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunRequest;
import org.slabnote.worker.Tape;
import org.slabnote.worker.run.InProcessWorker;

/**
 * What a step costs beyond its operation: ten filters in a row as steps of a run, on one thread and
 * from an empty store, against the same ten applied by hand, in turn, in one warm process. The
 * critical path is from the run's start to the end of its last step, less the same of a run that only
 * reads the scan; digests and writing go on beside it and count in the processor time.
 */
final class StepCost {
  private static final int WARM_UP = 4;
  private static final int ROUNDS = 9;

  private record Cost(double critical, double processor) {}

  private final Path folder;
  private final Path file;
  private final String sha256;
  private final Scan scan;
  private final OperatingSystemMXBean system =
      (OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean();

  StepCost(Path folder) throws IOException {
    this.folder = folder;
    byte[] bytes = LargeScan.file();
    file = Files.write(folder.resolve("E01.sgy"), bytes);
    sha256 = Canonical.sha256(bytes);
    scan = LargeScan.scan();
  }

  void measure(Page page) throws Exception {
    page.head(
        "What a step costs, on 2000 traces of 512 samples",
        "filter, ten in a row",
        "bare, each",
        "as a step, critical path, each",
        "overhead on the critical path",
        "processor time beyond the bare filter, each");
    chain(page, "running mean (`Dewow`)", Cells.Chain.DEWOW, Cells.OfDewow.class);
    chain(page, "band-pass (`BandPass`)", Cells.Chain.BAND_PASS, Cells.OfBandPass.class);
    chain(
        page,
        "background along the pass (`BackgroundRemoval`)",
        Cells.Chain.BACKGROUND,
        Cells.OfBackground.class);
  }

  private void chain(Page page, String name, Cells.Chain chain, Class<?> cell) throws Exception {
    double[] bare = new double[ROUNDS];
    double[] bareProcessor = new double[ROUNDS];
    double[] step = new double[ROUNDS];
    double[] processor = new double[ROUNDS];
    List<Filter<Scan>> filters = Cells.filters(chain);
    int n = filters.size();
    for (int i = -WARM_UP; i < ROUNDS; i++) {
      long cpu = system.getProcessCpuTime();
      double alone = Times.millis(() -> {
        Scan now = scan;
        for (Filter<Scan> filter : filters) {
          now = filter.apply(now, TestWork.serial());
        }
      });
      double aloneProcessor = (system.getProcessCpuTime() - cpu) / 1e6;
      Cost reading = run(Cells.Nothing.class);
      Cost all = run(cell);
      if (i >= 0) {
        bare[i] = alone / n;
        bareProcessor[i] = aloneProcessor / n;
        step[i] = (all.critical() - reading.critical()) / n;
        processor[i] = (all.processor() - reading.processor()) / n;
      }
    }
    Times by = new Times(bare);
    Times as = new Times(step);
    page.row(
        name,
        by.toString(),
        as.toString(),
        String.format(Locale.ROOT, "%+.1f %%", 100 * (as.median() / by.median() - 1)),
        String.format(
            Locale.ROOT,
            "%.1f ms",
            new Times(processor).median() - new Times(bareProcessor).median()));
  }

  private Cost run(Class<?> cell) throws IOException {
    Path store = Files.createTempDirectory(folder, "store");
    long[] last = new long[1];
    long cpu = system.getProcessCpuTime();
    long start = System.nanoTime();
    RunOutcome outcome = new InProcessWorker(StepCost.class.getClassLoader())
        .run(request(cell, store), new RunListener() {
          @Override
          public void stepFinished(String address, double seconds) {
            last[0] = System.nanoTime();
          }
        });
    Cost cost = new Cost((last[0] - start) / 1e6, (system.getProcessCpuTime() - cpu) / 1e6);
    if (!outcome.complete()) {
      throw new IllegalStateException(outcome.failures().toString());
    }
    delete(store);
    return cost;
  }

  private RunRequest request(Class<?> cell, Path store) {
    Tape tape = new Tape(
        List.of(new Tape.Cell("cell", 1, "0".repeat(64))),
        List.of(new Tape.Snippet("cell", 1, "cell();", cell.getName(), "cell", "")),
        List.of());
    return new RunRequest(
        tape,
        new Survey(List.of(LargeScan.row())),
        new JobSheet("title", "question", Optional.empty(), new TreeMap<>(), new TreeMap<>()),
        List.of(),
        new TreeMap<>(),
        List.of(new RunRequest.ScanFile("E01.sgy", file.toString(), sha256)),
        List.of(),
        List.of(),
        store.toString(),
        List.of(),
        new RunRequest.Limits(1, 1024, 600));
  }

  static void delete(Path folder) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
        Files.deleteIfExists(path);
      }
    }
  }
}
