package org.slabnote.engine.gate;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.slabnote.engine.problem.Problem;

/** Words the refusals of one class, one for each line and thing. */
final class Refusals {
  /** Stands between what may not be used and the reason. */
  static final String MAY_NOT = " may not be used in a cell: ";

  private final AllowList allowList;
  private final String file;
  private final String cell;
  private final int firstLine;
  private final List<Problem> problems;
  private final Set<String> told = new HashSet<>();

  Refusals(AllowList allowList, String file, String cell, int firstLine, List<Problem> problems) {
    this.allowList = allowList;
    this.file = file;
    this.cell = cell;
    this.firstLine = firstLine;
    this.problems = problems;
  }

  /** Refuses a type. */
  void type(int cellLine, String className) {
    refuse(cellLine, className, className, className);
  }

  /** Refuses a member. */
  void member(int cellLine, String className, String name) {
    String shown =
        name.equals("<init>") ? "new " + dotted(className) : dotted(className) + "." + name;
    refuse(cellLine, className, className + "." + name, shown);
  }

  private void refuse(int cellLine, String className, String reasonKey, String shown) {
    AllowList.Reason reason = allowList.reason(reasonKey);
    say(cellLine, className, dotted(shown) + MAY_NOT + reason.why() + ". " + reason.instead());
  }

  /** Refuses with words of its own. */
  void say(int cellLine, String about, String message) {
    int line = firstLine + cellLine - 1;
    boolean same = problems.stream()
        .anyMatch(p -> p.line() == line && p.cell().equals(cell) && p.message().equals(message));
    if (told.add(line + " " + about) && !same) {
      problems.add(new Problem(Problem.Kind.REFUSED, file, line, cell, message));
    }
  }

  /** The name as Java writes it. */
  static String shown(String internalName) {
    String name = internalName.replace('/', '.');
    if (!name.startsWith("REPL.")) {
      return dotted(name);
    }
    String own = name.substring(name.lastIndexOf('$') + 1);
    return own.matches("\\d+") ? "an object without a class name" : own;
  }

  private static String dotted(String className) {
    return className.replace('$', '.');
  }
}
