package org.slabnote.engine.gate;

import org.jspecify.annotations.Nullable;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.TryCatchBlockNode;
import org.objectweb.asm.tree.VarInsnNode;

/**
 * Tells the handlers that the compiler makes for try-with-resources, which catch everything, close,
 * and throw what they caught, from handlers that swallow.
 */
final class TryWithResources {
  private TryWithResources() {}

  static boolean isHandler(TryCatchBlockNode handler) {
    if (!"java/lang/Throwable".equals(handler.type)) {
      return false;
    }
    AbstractInsnNode at = real(handler.handler);
    if (!(at instanceof VarInsnNode store) || store.getOpcode() != Opcodes.ASTORE) {
      return false;
    }
    return closesAndThrows(real(store.getNext()), store.var)
        || suppresses(real(store.getNext()), store.var);
  }

  /** {@code [if (r != null)] r.close(); throw t;} with a nested handler around the close. */
  private static boolean closesAndThrows(@Nullable AbstractInsnNode start, int caught) {
    AbstractInsnNode at = start;
    if (isLoad(at) && at != null && opcode(next(at)) == Opcodes.IFNULL) {
      at = next(next(at));
    }
    if (!isLoad(at)
        || at == null
        || !(next(at) instanceof MethodInsnNode close)
        || !close.name.equals("close")
        || !close.desc.equals("()V")) {
      return false;
    }
    AbstractInsnNode jump = next(close);
    if (opcode(jump) != Opcodes.GOTO) {
      return false;
    }
    AbstractInsnNode store = next(jump);
    return store instanceof VarInsnNode nested
        && nested.getOpcode() == Opcodes.ASTORE
        && suppressesThrowing(next(nested), caught, nested.var);
  }

  private static boolean suppresses(@Nullable AbstractInsnNode at, int second) {
    return at instanceof VarInsnNode first
        && first.getOpcode() == Opcodes.ALOAD
        && suppressesThrowing(at, first.var, second);
  }

  /** {@code t.addSuppressed(x); throw t;} */
  private static boolean suppressesThrowing(
      @Nullable AbstractInsnNode start, int first, int second) {
    AbstractInsnNode one = start;
    AbstractInsnNode two = next(one);
    AbstractInsnNode call = next(two);
    AbstractInsnNode again = next(call);
    return loads(one, first)
        && loads(two, second)
        && call instanceof MethodInsnNode add
        && add.name.equals("addSuppressed")
        && loads(again, first)
        && opcode(next(again)) == Opcodes.ATHROW;
  }

  private static boolean loads(@Nullable AbstractInsnNode at, int variable) {
    return at instanceof VarInsnNode load
        && load.getOpcode() == Opcodes.ALOAD
        && load.var == variable;
  }

  private static boolean isLoad(@Nullable AbstractInsnNode at) {
    return at instanceof VarInsnNode && at.getOpcode() == Opcodes.ALOAD;
  }

  private static int opcode(@Nullable AbstractInsnNode at) {
    return at == null ? -1 : at.getOpcode();
  }

  private static @Nullable AbstractInsnNode next(@Nullable AbstractInsnNode at) {
    return at == null ? null : real(at.getNext());
  }

  private static @Nullable AbstractInsnNode real(@Nullable AbstractInsnNode start) {
    AbstractInsnNode at = start;
    while (at != null && at.getOpcode() < 0) {
      at = at.getNext();
    }
    return at;
  }
}
