package org.slabnote.engine.gate;

/** A class outside the cells with fields that no cell may assign. */
public class Open {
  /** A field that all steps share. */
  public static int field;

  /** A field of one object. */
  public int own;

  /** For a class of a cell. */
  protected Open() {}
}
