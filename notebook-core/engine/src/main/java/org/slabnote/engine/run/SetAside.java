package org.slabnote.engine.run;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.slabnote.engine.plugin.JobTools;
import org.slabnote.engine.problem.Problem;

/** Gives the reason where something is missing because its plugin was set aside. */
final class SetAside {
  private static final Pattern PACKAGE = Pattern.compile("package ([\\w.]+) does not exist");
  private static final String FORMAT = "no format recognises it";

  private SetAside() {}

  static List<Problem> explain(List<Problem> problems, JobTools tools) {
    if (tools.aside().isEmpty()) {
      return problems;
    }
    List<Problem> explained = new ArrayList<>();
    for (Problem one : problems) {
      Matcher missing = PACKAGE.matcher(one.message());
      Optional<Problem> reason = missing.find()
          ? tools.reasonFor(missing.group(1))
          : one.message().contains(FORMAT)
              ? Optional.of(tools.aside().get(0).problem())
              : Optional.empty();
      explained.add(reason.map(why -> because(one, why)).orElse(one));
    }
    return explained;
  }

  private static Problem because(Problem problem, Problem why) {
    return new Problem(
        problem.kind(),
        problem.file(),
        problem.line(),
        problem.cell(),
        problem.message() + ". Nothing of " + why.file() + " is loaded: " + why.message());
  }
}
