package org.slabnote.engine.gate;

import java.util.Set;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;

/**
 * A class may define its own {@code hashCode}, which only hash tables call, and these keep their order
 * by other means. Such a method may read hash codes if it does nothing with them but give them back.
 */
final class HashCodes {
  private static final Set<String> TAKE_THEM =
      Set.of("hash", "hashCode", "deepHashCode", "valueOf", "doubleToLongBits", "floatToIntBits");

  private HashCodes() {}

  static boolean isDefinition(MethodNode method) {
    if (!method.name.equals("hashCode") || !method.desc.equals("()I")) {
      return false;
    }
    for (AbstractInsnNode at : method.instructions) {
      boolean leaks = switch (at.getOpcode()) {
        case Opcodes.PUTFIELD,
            Opcodes.PUTSTATIC,
            Opcodes.ATHROW,
            Opcodes.IASTORE,
            Opcodes.LASTORE -> true;
        default -> false;
      };
      boolean hands = at instanceof MethodInsnNode call
          && Type.getArgumentTypes(call.desc).length > 0
          && !TAKE_THEM.contains(call.name);
      boolean binds = at instanceof InvokeDynamicInsnNode call
          && !call.bsm.getOwner().equals("java/lang/runtime/ObjectMethods");
      if (leaks || hands || binds) {
        return false;
      }
    }
    return true;
  }

  static boolean isOne(String name) {
    return name.equals("hashCode") || name.equals("hash") || name.equals("deepHashCode");
  }
}
