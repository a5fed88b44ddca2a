package org.slabnote.worker.run;

/**
 * A place in the notebook.
 *
 * @param cell cell; empty where no cell is meant
 * @param line line in the file; 0 where none applies
 * @param snippet text of the statement
 */
record Place(String cell, int line, String snippet) {
  static final Place NONE = new Place("", 0, "");
}
