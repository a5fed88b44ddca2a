package org.slabnote.demo;

import java.util.List;

/**
 * One kill and what was found after it.
 *
 * @param job which job
 * @param whom which process was killed
 * @param moment in what kind of run
 * @param millis after how many milliseconds from the start of the front process
 * @param late whether the run had ended before
 * @param status exit status of the front process; its signal's where it was killed
 * @param record what stood in the job folder then
 * @param faults what was found wrong; expected empty
 */
record Kill(
    String job,
    Whom whom,
    Moment moment,
    long millis,
    boolean late,
    int status,
    State record,
    List<String> faults) {
  /** Whom a kill is for. */
  enum Whom {
    FRONT("front"),
    WORKER("worker"),
    BOTH("both");

    final String words;

    Whom(String words) {
      this.words = words;
    }
  }

  /** When. */
  enum Moment {
    FIRST_RUN("first run, empty cache"),
    REMEMBERED("remembered run"),
    RECORD("while the record is written");

    final String words;

    Moment(String words) {
      this.words = words;
    }
  }

  /** What stands in a job folder. */
  enum State {
    NONE("none, as before"),
    OLD("the one of before, whole"),
    NEW("the new one, whole"),
    HALF("told as half written"),
    WRONG("wrong");

    final String words;

    State(String words) {
      this.words = words;
    }
  }
}
