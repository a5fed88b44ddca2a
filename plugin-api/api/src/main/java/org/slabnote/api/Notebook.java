package org.slabnote.api;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/**
 * What a cell says: all of it by static import.
 *
 * <p>A cell states steps; the engine computes what {@link #show}, {@link #table}, {@link
 * #conclude}, {@link #findings}, {@link #ledger} and {@code get()} demand.
 *
 * @since 0.1
 */
public final class Notebook {
  private static final ThreadLocal<@Nullable Session> SESSION = new ThreadLocal<>();

  private Notebook() {}

  /** Installs the session of the calling thread; null removes it. For the worker and the testkit; cells may not call it. */
  public static void install(@Nullable Session session) {
    if (session == null) {
      SESSION.remove();
    } else {
      SESSION.set(session);
    }
  }

  /** Returns the survey table. */
  public static Survey survey() {
    return session().survey();
  }

  /** Returns the job sheet. */
  public static JobSheet job() {
    return session().job();
  }

  /** Returns the scans of an orientation, one step per pass; none where the survey has none. */
  public static Steps<Scan> scans(Orientation orientation) {
    return session().scans(orientation);
  }

  /**
   * Returns one scan.
   *
   * @throws IllegalArgumentException if the survey has none such; the message lists the passes
   */
  public static Step<Scan> scan(String pass, Orientation orientation) {
    return session().scan(pass, orientation);
  }

  /**
   * Returns the picks of a csv block with the columns {@code pass,distance_m,time_ns}.
   *
   * @throws IllegalArgumentException if the notebook has no such block, or a row does not serve
   */
  public static Picks picks(String block) {
    return session().picks(block);
  }

  /** Returns a csv block of the notebook as a table of text columns. */
  public static Table data(String block) {
    return session().data(block);
  }

  /** Returns the proposed cuts, in the order of {@code cuts.csv}; none where the job has none. */
  public static List<Cut> cuts() {
    return session().cuts();
  }

  /**
   * Returns a proposed cut.
   *
   * @throws IllegalArgumentException if there is none of this name; the message lists the names
   */
  public static Cut cuts(String name) {
    for (Cut cut : cuts()) {
      if (cut.name().equals(name)) {
        return cut;
      }
    }
    throw new IllegalArgumentException("no proposed cut " + name + "; cuts.csv has "
        + String.join(", ", cuts().stream().map(Cut::name).toList()));
  }

  /** States an operation. */
  public static <R> Step<R> run(Operation<R> operation) {
    return session().run(operation);
  }

  /**
   * States an operation on each of some things, cuts say: {@code each(cuts(), Cut::name, c -> new
   * Clearance(...))}.
   */
  public static <T, R> Steps<R> each(
      List<T> things,
      Function<? super T, String> name,
      Function<? super T, ? extends Operation<R>> operation) {
    List<String> names = new ArrayList<>();
    List<Operation<R>> operations = new ArrayList<>();
    for (T thing : things) {
      names.add(name.apply(thing));
      operations.add(operation.apply(thing));
    }
    return session().run(names, operations);
  }

  /** Demands a step and shows it: a radargram, a section, a slice; {@code over} is drawn over it. */
  public static void show(Step<?> picture, Step<?>... over) {
    session().show(picture, List.of(over));
  }

  /** Demands a table and gives it a name. */
  public static void table(String name, Step<Table> step) {
    session().table(name, step);
  }

  /** Demands a conclusion and gives it a name. */
  public static void conclude(String name, Step<Conclusion> step) {
    session().conclude(name, step);
  }

  /** Demands conclusions, each under its name. */
  public static void conclude(Steps<Conclusion> steps) {
    for (String name : steps.names()) {
      conclude(name, steps.of(name));
    }
  }

  /** Demands the findings of the job. */
  public static void findings(Step<Targets> step) {
    session().findings(step);
  }

  /** Demands the event ledger of the job. */
  public static void ledger(Step<Events> step) {
    session().ledger(step);
  }

  /** Demands what could have been seen, and what not: drawn on the plan, told in the report. */
  public static void seen(Step<Visibility> step) {
    session().seen(step);
  }

  private static Session session() {
    Session session = SESSION.get();
    if (session == null) {
      throw new IllegalStateException(
          "no notebook is running on this thread; operations get their inputs as steps");
    }
    return session;
  }
}
