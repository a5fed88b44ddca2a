package org.slabnote.engine.gate;

import org.objectweb.asm.tree.InvokeDynamicInsnNode;

/** What the compiler makes of {@code "a" + b}. */
final class Concatenation {
  private Concatenation() {}

  static boolean is(InvokeDynamicInsnNode call) {
    return call.bsm.getOwner().equals("java/lang/invoke/StringConcatFactory");
  }

  /** The text with {@link ValueFlow#NUMBER} where a value is put in. */
  static String recipe(InvokeDynamicInsnNode call) {
    return call.bsmArgs.length > 0 && call.bsmArgs[0] instanceof String recipe
        ? recipe.replace('\u0002', ValueFlow.NUMBER)
        : "";
  }
}
