package org.slabnote.engine.compiler;

import java.util.Set;
import java.util.function.IntUnaryOperator;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassVisitor;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Label;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.Opcodes;

/**
 * Gives a class the cell's name and lines, and strict arithmetic.
 *
 * <p>{@code Math.cbrt}, {@code Math.tanh} and others answer with different last bits on different
 * JDKs and processors; their namesakes in {@code StrictMath} do not.
 */
final class StrictRewriter {
  private static final String MATH = "java/lang/Math";
  private static final String STRICT = "java/lang/StrictMath";
  private static final Set<String> TRANSCENDENTAL = Set.of(
      "sin", "cos", "tan", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "exp", "expm1",
      "log", "log10", "log1p", "pow", "cbrt", "hypot");

  private StrictRewriter() {}

  static byte[] rewrite(byte[] classFile, String sourceName, IntUnaryOperator line) {
    ClassReader reader = new ClassReader(classFile);
    ClassWriter writer = new ClassWriter(0);
    reader.accept(
        new ClassVisitor(Opcodes.ASM9, writer) {
          @Override
          public void visitSource(String source, String debug) {
            super.visitSource(sourceName, null);
          }

          @Override
          public MethodVisitor visitMethod(
              int access, String name, String descriptor, String signature, String[] exceptions) {
            return new Method(
                super.visitMethod(access, name, descriptor, signature, exceptions), line);
          }
        },
        0);
    return writer.toByteArray();
  }

  private static final class Method extends MethodVisitor {
    private final IntUnaryOperator line;

    Method(MethodVisitor next, IntUnaryOperator line) {
      super(Opcodes.ASM9, next);
      this.line = line;
    }

    @Override
    public void visitLineNumber(int wrapped, Label start) {
      super.visitLineNumber(line.applyAsInt(wrapped), start);
    }

    @Override
    public void visitMethodInsn(
        int opcode, String owner, String name, String descriptor, boolean isInterface) {
      super.visitMethodInsn(opcode, strict(owner, name), name, descriptor, isInterface);
    }

    @Override
    public void visitInvokeDynamicInsn(
        String name, String descriptor, Handle bootstrap, Object... arguments) {
      Object[] strict = new Object[arguments.length];
      for (int i = 0; i < arguments.length; i++) {
        strict[i] = arguments[i] instanceof Handle h
            ? new Handle(
                h.getTag(),
                strict(h.getOwner(), h.getName()),
                h.getName(),
                h.getDesc(),
                h.isInterface())
            : arguments[i];
      }
      super.visitInvokeDynamicInsn(name, descriptor, bootstrap, strict);
    }

    private static String strict(String owner, String name) {
      return owner.equals(MATH) && TRANSCENDENTAL.contains(name) ? STRICT : owner;
    }
  }
}
