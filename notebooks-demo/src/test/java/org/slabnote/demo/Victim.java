package org.slabnote.demo;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/**
 * A job that is run and killed, again and again, each time as a copy with the record of an earlier run
 * beside it (its job sheet had another title).
 */
final class Victim {
  private static final String RECORD = "interpretation.record.jsonl";
  private static final String DIGESTS = "interpretation.digests";
  private static final long MOST_MILLIS = 120_000;

  private final String name;
  private final Path job;
  private final Path folder;
  private final Slabnote slabnote;
  private Map<String, String> old = Map.of();
  private Map<String, String> right = Map.of();
  private long firstMillis;
  private long rememberedMillis;
  private int made;

  private Victim(String name, Path job, Path folder, Slabnote slabnote) {
    this.name = name;
    this.job = job;
    this.folder = folder;
    this.slabnote = slabnote;
  }

  /**
   * Runs a job undisturbed under two titles, to have its right record, an earlier one, and the times.
   *
   * @param from the job folder; it is copied
   * @param folder where all happens: made here
   */
  static Victim of(String name, Path from, Path folder) throws IOException {
    Files.createDirectory(folder);
    Path temporary = Files.createDirectory(folder.resolve("tmp"));
    Path job = Folders.copy(from, folder.resolve("job"));
    Files.deleteIfExists(job.resolve(RECORD));
    Files.deleteIfExists(job.resolve(DIGESTS));
    Slabnote slabnote = Slabnote.in(folder).with("-Djava.io.tmpdir=" + temporary);
    Victim victim = new Victim(name, job, folder, slabnote);
    Path sheet = job.resolve("job.toml");
    String text = Files.readString(sheet);
    Files.writeString(sheet, text.replaceFirst("(?m)^title = .*$", "title = \"Another title\""));
    victim.firstMillis = victim.timed();
    victim.old = victim.records(job);
    Files.writeString(sheet, text);
    victim.timed();
    victim.right = victim.records(job);
    victim.rememberedMillis = victim.timed();
    if (victim.old.equals(victim.right) || !victim.records(job).equals(victim.right)) {
      throw new AssertionError("the two records must differ, and the last two runs agree");
    }
    Files.delete(job.resolve(RECORD));
    Files.delete(job.resolve(DIGESTS));
    return victim;
  }

  private long timed() {
    long start = System.nanoTime();
    slabnote.done("run", job.getFileName().toString());
    return TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - start);
  }

  private SortedMap<String, String> records(Path of) {
    SortedMap<String, String> files = new TreeMap<>(Folders.bytes(of));
    files.keySet().retainAll(List.of(RECORD, DIGESTS));
    return files;
  }

  private SortedMap<String, String> inputs(Path of) {
    SortedMap<String, String> files = new TreeMap<>(Folders.bytes(of));
    files
        .keySet()
        .removeIf(file -> file.startsWith("interpretation.record")
            || file.equals(DIGESTS)
            || file.startsWith(".interpretation-"));
    return files;
  }

  /**
   * Runs a copy and kills.
   *
   * @param share of the run's usual time that passes first; while the record is written, of 12 ms from
   *     when its first part is there
   */
  Kill kill(Kill.Whom whom, Kill.Moment moment, double share) throws Exception {
    made++;
    boolean first = moment == Kill.Moment.FIRST_RUN;
    Slabnote own =
        first ? slabnote.moved(Files.createDirectory(folder.resolve("first" + made))) : slabnote;
    Path copy =
        Folders.copy(job, (first ? folder.resolve("first" + made) : folder).resolve("job" + made));
    boolean hasOld = made % 2 == 0;
    if (hasOld) {
      for (Map.Entry<String, String> file : old.entrySet()) {
        Files.write(
            copy.resolve(file.getKey()), java.util.HexFormat.of().parseHex(file.getValue()));
      }
    }
    SortedMap<String, String> inputs = inputs(copy);
    Path out = folder.resolve("out" + made);
    Path err = folder.resolve("err" + made);
    long start = System.nanoTime();
    Process front = own.start(new String[] {"run", copy.getFileName().toString()}, out, err);
    long usual = first ? firstMillis : rememberedMillis;
    if (moment == Kill.Moment.RECORD) {
      awaitPart(front, copy);
      TimeUnit.MICROSECONDS.sleep((long) (share * 12_000));
    } else {
      front.waitFor((long) (share * usual), TimeUnit.MILLISECONDS);
    }
    boolean late = !front.isAlive();
    if (late && moment != Kill.Moment.RECORD) {
      shorten(first); // the machine has become quicker since it was timed
    }
    List<ProcessHandle> workers = front.descendants().toList();
    if (whom != Kill.Whom.FRONT) {
      workers.forEach(ProcessHandle::destroyForcibly);
    }
    if (whom != Kill.Whom.WORKER) {
      front.destroyForcibly();
    }
    long millis = TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - start);
    List<String> faults = new ArrayList<>();
    if (!front.waitFor(MOST_MILLIS, TimeUnit.MILLISECONDS)) {
      front.destroyForcibly();
      faults.add("the front process did not end");
    }
    orphans(workers, copy, faults);
    boolean told = whom == Kill.Whom.WORKER && !late;
    if (told) {
      survivor(front.exitValue(), workers.isEmpty(), Files.readString(err), faults);
    }
    Kill.State state = state(own, copy, hasOld, faults);
    boolean nothingWritten = state == Kill.State.OLD || state == Kill.State.NONE;
    if (told && front.exitValue() != 0 && !nothingWritten) {
      faults.add("a run that says it did not end well wrote a record");
    }
    if (!inputs(copy).equals(inputs)) {
      faults.add("an input of the job changed");
    }
    mended(own, copy, faults);
    return new Kill(name, whom, moment, millis, late, front.exitValue(), state, faults);
  }

  private void shorten(boolean first) {
    if (first) {
      firstMillis = firstMillis * 4 / 5;
    } else {
      rememberedMillis = rememberedMillis * 4 / 5;
    }
  }

  private static void awaitPart(Process front, Path copy) throws Exception {
    long end = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(MOST_MILLIS);
    while (front.isAlive() && System.nanoTime() < end) {
      try (DirectoryStream<Path> parts = Files.newDirectoryStream(copy, ".interpretation-*")) {
        if (parts.iterator().hasNext()) {
          return;
        }
      }
      TimeUnit.MICROSECONDS.sleep(200);
    }
  }

  /** Three seconds after the front is gone no process of the run may be there: known ones, or found by the folder. */
  private void orphans(List<ProcessHandle> workers, Path copy, List<String> faults)
      throws InterruptedException {
    long end = System.nanoTime() + TimeUnit.SECONDS.toNanos(3);
    while (System.nanoTime() < end && left(workers)) {
      TimeUnit.MILLISECONDS.sleep(20);
    }
    if (left(workers)) {
      faults.add("a process of the run is still there three seconds after its front, of " + copy);
    }
  }

  private boolean left(List<ProcessHandle> workers) {
    if (workers.stream().anyMatch(Victim::isThere)) {
      return true;
    }
    String temporary = folder.resolve("tmp").toString();
    return ProcessHandle.allProcesses()
        .anyMatch(process ->
            process.info().commandLine().orElse("").contains("@" + temporary) && isThere(process));
  }

  /** On Linux a process that has ended keeps its number until its new parent hears of it: state Z, proc(5). */
  private static boolean isThere(ProcessHandle process) {
    try {
      String stat = Files.readString(Path.of("/proc", Long.toString(process.pid()), "stat"));
      return process.isAlive() && !stat.substring(stat.lastIndexOf(')')).startsWith(") Z");
    } catch (IOException e) {
      return process.isAlive();
    }
  }

  /** A front whose worker was killed says so; one that had none yet, or no need of it any more, goes on. */
  private static void survivor(int status, boolean noWorker, String said, List<String> faults) {
    boolean wellEnded = status == 0;
    if (!wellEnded && status != 2 && status != 3) {
      faults.add("the front process ended with status " + status + ": " + said);
    }
    if (noWorker && !wellEnded) {
      faults.add("no worker was killed, and the front process says: " + said);
    }
    boolean words = said.contains("worker process") && said.contains("run again");
    if (!wellEnded && !words) {
      faults.add("the front process does not say what happened: " + said);
    }
    if (said.contains("\tat ")) {
      faults.add("the front process shows a stack: " + said);
    }
  }

  private Kill.State state(Slabnote own, Path copy, boolean hasOld, List<String> faults) {
    SortedMap<String, String> now = records(copy);
    if (now.isEmpty() && !hasOld) {
      return Kill.State.NONE;
    }
    if (now.equals(old) && hasOld) {
      return Kill.State.OLD;
    }
    if (now.equals(right)) {
      return Kill.State.NEW;
    }
    Slabnote.Said said = own.run("table", copy.getFileName().toString());
    if (said.status() != 0 && said.err().contains("was ended while it wrote the two")) {
      return Kill.State.HALF;
    }
    faults.add("the record is neither old nor new nor told as half: " + now.keySet() + said);
    return Kill.State.WRONG;
  }

  private void mended(Slabnote own, Path copy, List<String> faults) throws IOException {
    Slabnote.Said said = own.run("run", copy.getFileName().toString());
    if (said.status() != 0) {
      faults.add("the next run ends with status " + said.status() + ": " + said.err());
    } else if (!records(copy).equals(right)) {
      faults.add("the next run gives another record");
    }
    try (Stream<Path> files = Files.list(copy)) {
      files
          .filter(file -> file.getFileName().toString().endsWith(".part"))
          .forEach(file -> faults.add(file + " is left"));
    }
  }
}
