package org.slabnote.engine.gate;

import org.jspecify.annotations.Nullable;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.JumpInsnNode;
import org.objectweb.asm.tree.TryCatchBlockNode;
import org.objectweb.asm.tree.TypeInsnNode;

/** Tells a handler of {@code finally} that begins with {@code if (t instanceof Error) throw t}. */
final class Finally {
  private Finally() {}

  static boolean letsErrorsPass(TryCatchBlockNode handler) {
    AbstractInsnNode dup = next(handler.handler);
    AbstractInsnNode test = next(dup);
    AbstractInsnNode jump = next(test);
    AbstractInsnNode thrown = next(jump);
    return dup != null
        && dup.getOpcode() == Opcodes.DUP
        && test instanceof TypeInsnNode is
        && is.getOpcode() == Opcodes.INSTANCEOF
        && is.desc.equals("java/lang/Error")
        && jump instanceof JumpInsnNode unless
        && unless.getOpcode() == Opcodes.IFEQ
        && thrown != null
        && thrown.getOpcode() == Opcodes.ATHROW;
  }

  private static @Nullable AbstractInsnNode next(@Nullable AbstractInsnNode start) {
    AbstractInsnNode at = start == null ? null : start.getNext();
    while (at != null && at.getOpcode() < 0) {
      at = at.getNext();
    }
    return at;
  }
}
