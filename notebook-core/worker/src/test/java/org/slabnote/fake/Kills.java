package org.slabnote.fake;

import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Table;
import org.slabnote.api.Work;

/** Ends the process: halts, exits, or writes where no memory is. */
@Op(id = "fake.kills", revision = 1, purpose = Purpose.MODEL)
public record Kills(@Param(meaning = "how") How how, int status) implements Operation<Table> {
  /** How. */
  public enum How {
    /** At once. */
    HALT,
    /** With the hooks. */
    EXIT,
    /** By a fault of the machine. */
    CRASH
  }

  @Override
  public Table apply(Work work) {
    switch (how) {
      case HALT -> Runtime.getRuntime().halt(status);
      case EXIT -> System.exit(status);
      case CRASH -> crash();
    }
    return new Table(java.util.List.of());
  }

  private static void crash() {
    try {
      Class<?> type = Class.forName("sun.misc.Unsafe");
      var field = type.getDeclaredField("theUnsafe");
      field.setAccessible(true);
      type.getMethod("putAddress", long.class, long.class).invoke(field.get(null), 8L, 1L);
    } catch (ReflectiveOperationException e) {
      throw new IllegalStateException(e);
    }
  }
}
