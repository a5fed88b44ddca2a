package org.slabnote.speed;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;

/**
 * Measures and writes the page of figures: {@code mvn -Pspeed -pl notebooks-demo -am verify}, on a
 * machine that has nothing else to do.
 */
public final class Speed {
  private Speed() {}

  /**
   * Measures.
   *
   * @param arguments the launcher, the demo job with its scans, the page to write
   */
  public static void main(String[] arguments) throws Exception {
    Path launcher = Path.of(arguments[0]).toAbsolutePath().normalize();
    Path demo = Path.of(arguments[1]).toAbsolutePath().normalize();
    Path target = Path.of(arguments[2]).toAbsolutePath().normalize();
    Path folder = Files.createTempDirectory("speed");
    try {
      Path job = copy(demo, folder.resolve("job"));
      Path cache = Files.createDirectory(folder.resolve("cache"));
      Page page = new Page();
      head(page);
      new WholeProcess(launcher, job, cache).measure(page);
      new LateEdit(job, cache).measure(page);
      new WorkerStart(job, cache).measure(page);
      new StepCost(Files.createDirectory(folder.resolve("steps"))).measure(page);
      Digests.measure(page);
      Files.writeString(target, page.toString());
    } finally {
      StepCost.delete(folder);
    }
    System.exit(0); // a shell or a worker kept ready must not hold this process
  }

  private static void head(Page page) throws Exception {
    try (var in = Speed.class.getResourceAsStream("head.md")) {
      page.text(new String(
              java.util.Objects.requireNonNull(in, "head.md").readAllBytes(),
              StandardCharsets.UTF_8)
          .strip());
    }
    page.text("");
    page.text("Measured on " + System.getProperty("os.name") + " "
        + System.getProperty("os.arch") + ", " + Runtime.getRuntime().availableProcessors()
        + " processors, Java " + Runtime.version() + ".");
  }

  private static Path copy(Path from, Path to) throws Exception {
    try (Stream<Path> all = Files.walk(from)) {
      for (Path path : (Iterable<Path>) all::iterator) {
        Path target = to.resolve(from.relativize(path).toString());
        if (Files.isDirectory(path)) {
          Files.createDirectories(target);
        } else {
          Files.copy(path, target);
        }
      }
    }
    return to;
  }
}
