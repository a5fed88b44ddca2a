package org.slabnote.app;

/** Exit statuses, the same for every command. A crash must never read as a verdict. */
final class Status {
  /** Done. */
  static final int DONE = 0;

  /** The work says no: a recheck differs, a record does not tell of the job as it stands. */
  static final int NO = 1;

  /** Wrong use or bad input; nothing was written. */
  static final int WRONG = 2;

  /** A fault of ours or of the machine. */
  static final int FAULT = 3;

  private Status() {}
}
