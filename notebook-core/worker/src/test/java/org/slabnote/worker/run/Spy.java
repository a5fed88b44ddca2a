package org.slabnote.worker.run;

/** What a cell must not reach. */
public final class Spy {
  private Spy() {}

  /** Does nothing. */
  public static void look() {}
}
