package org.slabnote.desktop;

import java.util.List;

/** Asks the person in front of the window. */
interface Questions {
  /**
   * Asks and waits.
   *
   * @param question one sentence
   * @param detail what each answer does
   * @param answers the answers; the last one leaves everything as it is
   * @return index of the answer
   */
  int ask(String question, String detail, List<String> answers);
}
