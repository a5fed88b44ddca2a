package org.slabnote.api;

import java.util.List;

/**
 * What stands behind {@link Notebook} while cells run. Implemented by the worker and the testkit;
 * cells do not see it.
 *
 * @since 0.1
 */
public interface Session {
  /** Returns the survey table. */
  Survey survey();

  /** Returns the job sheet. */
  JobSheet job();

  /** Returns the scans of an orientation. */
  Steps<Scan> scans(Orientation orientation);

  /** Returns one scan. */
  Step<Scan> scan(String pass, Orientation orientation);

  /** Returns the picks of a csv block. */
  Picks picks(String block);

  /** Returns a csv block as a table of text. */
  Table data(String block);

  /** Returns the proposed cuts. */
  List<Cut> cuts();

  /** States an operation. */
  <R> Step<R> run(Operation<R> operation);

  /** States like operations, one per name. */
  <R> Steps<R> run(List<String> names, List<? extends Operation<R>> operations);

  /** Demands a step and shows it with others drawn over it. */
  void show(Step<?> picture, List<Step<?>> over);

  /** Demands a table and gives it a name. */
  void table(String name, Step<Table> step);

  /** Demands a conclusion and gives it a name. */
  void conclude(String name, Step<Conclusion> step);

  /** Demands findings: they become the job's target list. */
  void findings(Step<Targets> step);

  /** Demands the event ledger. */
  void ledger(Step<Events> step);

  /** Demands what could have been seen, and what not. */
  void seen(Step<Visibility> step);
}
