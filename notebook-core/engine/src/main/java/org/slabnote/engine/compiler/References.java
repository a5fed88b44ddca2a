package org.slabnote.engine.compiler;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedSet;
import java.util.TreeSet;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassVisitor;
import org.objectweb.asm.FieldVisitor;
import org.objectweb.asm.Handle;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;

/**
 * Finds what each statement refers to in its own byte code: the static fields, methods and types of
 * the other statements' wrappers. An alias of an object on the heap stays invisible.
 */
final class References {
  private final Map<String, String> nameOfWrapper = new LinkedHashMap<>();

  private References() {}

  static Compiled resolve(Compiled compiled) {
    References references = new References();
    for (Statement statement : compiled.statements()) {
      references.nameOfWrapper.put(statement.wrapper().replace('.', '/'), statement.defines());
    }
    List<Statement> resolved = new ArrayList<>();
    for (int i = 0; i < compiled.statements().size(); i++) {
      Statement statement = compiled.statements().get(i);
      SortedSet<String> read = new TreeSet<>();
      SortedSet<String> written = new TreeSet<>();
      for (CompiledClass one : compiled.classes()) {
        if (one.statement() == i) {
          references.collect(one.bytes(), statement.wrapper().replace('.', '/'), read, written);
        }
      }
      resolved.add(statement.withReferences(read, written));
    }
    return new Compiled(resolved, compiled.classes());
  }

  private void collect(
      byte[] bytes, String own, SortedSet<String> read, SortedSet<String> written) {
    new ClassReader(bytes).accept(new Finder(own, read, written), ClassReader.SKIP_DEBUG);
  }

  /** Every reference to another wrapper, whatever its kind. */
  private final class Finder extends ClassVisitor {
    private final String own;
    private final SortedSet<String> read;
    private final SortedSet<String> written;

    Finder(String own, SortedSet<String> read, SortedSet<String> written) {
      super(Opcodes.ASM9);
      this.own = own;
      this.read = read;
      this.written = written;
    }

    private void refer(String owner, SortedSet<String> where) {
      int nested = owner.indexOf('$', "REPL/$JShell$".length());
      String wrapper =
          owner.startsWith("REPL/$JShell$") && nested > 0 ? owner.substring(0, nested) : owner;
      String name = wrapper.equals(own) ? "" : nameOfWrapper.getOrDefault(wrapper, "");
      if (!name.isEmpty()) {
        where.add(name);
      }
    }

    private void type(Type type) {
      switch (type.getSort()) {
        case Type.OBJECT -> refer(type.getInternalName(), read);
        case Type.ARRAY -> type(type.getElementType());
        case Type.METHOD -> {
          type(type.getReturnType());
          for (Type argument : type.getArgumentTypes()) {
            type(argument);
          }
        }
        default -> {}
      }
    }

    private void constant(Object value) {
      if (value instanceof Type type) {
        type(type);
      } else if (value instanceof Handle handle) {
        refer(handle.getOwner(), read);
        type(
            handle.getDesc().startsWith("(")
                ? Type.getMethodType(handle.getDesc())
                : Type.getType(handle.getDesc()));
      }
    }

    @Override
    public void visit(
        int v, int access, String name, String sig, String superName, String[] interfaces) {
      refer(superName, read);
      for (String one : interfaces) {
        refer(one, read);
      }
    }

    @Override
    public FieldVisitor visitField(
        int access, String name, String descriptor, String sig, Object value) {
      type(Type.getType(descriptor));
      return super.visitField(access, name, descriptor, sig, value);
    }

    @Override
    public MethodVisitor visitMethod(
        int access, String name, String descriptor, String sig, String[] exceptions) {
      type(Type.getMethodType(descriptor));
      return new MethodVisitor(Opcodes.ASM9) {
        @Override
        public void visitFieldInsn(int opcode, String owner, String field, String desc) {
          refer(owner, opcode == Opcodes.PUTSTATIC ? written : read);
          type(Type.getType(desc));
        }

        @Override
        public void visitMethodInsn(
            int opcode, String owner, String method, String desc, boolean itf) {
          refer(owner, read);
          type(Type.getMethodType(desc));
        }

        @Override
        public void visitTypeInsn(int opcode, String type) {
          type(Type.getObjectType(type));
        }

        @Override
        public void visitMultiANewArrayInsn(String desc, int dimensions) {
          type(Type.getType(desc));
        }

        @Override
        public void visitLdcInsn(Object value) {
          constant(value);
        }

        @Override
        public void visitInvokeDynamicInsn(
            String method, String desc, Handle bootstrap, Object... args) {
          type(Type.getMethodType(desc));
          for (Object argument : args) {
            constant(argument);
          }
        }
      };
    }
  }
}
