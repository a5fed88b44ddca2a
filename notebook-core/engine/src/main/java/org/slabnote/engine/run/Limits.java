package org.slabnote.engine.run;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.SortedMap;
import org.slabnote.api.JobSheet;
import org.slabnote.engine.job.Job;
import org.slabnote.engine.problem.BadInput;
import org.slabnote.engine.problem.Problem;

/**
 * How much memory and time a run may take. {@code [limits]} in the job sheet: {@code memory_mb} and
 * {@code time_s}, whole numbers.
 *
 * @param memoryMb heap of the worker
 * @param time of the whole run
 */
record Limits(int memoryMb, Duration time) {
  private static final int MEMORY_MB = 2048;
  private static final int TIME_S = 3600;

  static Limits of(JobSheet sheet) throws BadInput {
    List<Problem> problems = new ArrayList<>();
    SortedMap<String, String> facts = sheet.facts();
    int memory = number(facts, "memory_mb", 256, 1_048_576, MEMORY_MB, problems);
    int time = number(facts, "time_s", 1, 604_800, TIME_S, problems);
    if (!problems.isEmpty()) {
      throw new BadInput(problems);
    }
    return new Limits(memory, Duration.ofSeconds(time));
  }

  private static int number(
      SortedMap<String, String> facts,
      String key,
      int least,
      int most,
      int otherwise,
      List<Problem> problems) {
    String text = facts.getOrDefault("limits." + key, "");
    if (text.isEmpty()) {
      return otherwise;
    }
    if (text.matches("\\d{1,9}")) {
      int number = Integer.parseInt(text);
      if (number >= least && number <= most) {
        return number;
      }
    }
    problems.add(Problem.inFile(
        Job.SHEET,
        0,
        "limits." + key + " = " + text + "; expected a whole number from " + least + " to " + most
            + ". Write " + key + " = " + otherwise));
    return otherwise;
  }
}
