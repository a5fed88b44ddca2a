package org.slabnote.engine.gate;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.TreeSet;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.ConstantDynamic;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Label;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.slabnote.engine.compiler.Compiled;
import org.slabnote.engine.compiler.CompiledClass;
import org.slabnote.engine.compiler.Statement;
import org.slabnote.engine.problem.Problem;

/** Class files that no compiler of cells makes, as somebody could put them into the cache folder. */
class ForgedClassTest {
  private static final String NAME = "REPL/$JShell$1";
  private static final Handle BOOTSTRAP = new Handle(
      Opcodes.H_INVOKESTATIC,
      "java/lang/invoke/ConstantBootstraps",
      "nullConstant",
      "(Ljava/lang/invoke/MethodHandles$Lookup;Ljava/lang/String;Ljava/lang/Class;)Ljava/lang/Object;",
      false);

  private static List<String> refused(byte[] bytes) throws Exception {
    Statement statement = new Statement(
        "first",
        1,
        "run();",
        Statement.Kind.STATEMENT,
        "",
        "",
        "REPL.$JShell$1",
        "do_it$",
        new TreeSet<>(),
        new TreeSet<>());
    Compiled compiled = new Compiled(
        List.of(statement), List.of(new CompiledClass("REPL.$JShell$1", "first", 0, bytes)));
    return Cells.refusals(compiled, Cells.document("```java first\nrun();\n```\n")).stream()
        .map(Problem::toString)
        .toList();
  }

  private static byte[] forged(int version, String name, Consumer<MethodVisitor> body) {
    ClassWriter writer = new ClassWriter(ClassWriter.COMPUTE_MAXS);
    writer.visit(version, Opcodes.ACC_PUBLIC, name, null, "java/lang/Object", null);
    MethodVisitor method =
        writer.visitMethod(Opcodes.ACC_STATIC, "do_it$", "()Ljava/lang/Object;", null, null);
    method.visitCode();
    body.accept(method);
    method.visitInsn(Opcodes.ARETURN);
    method.visitMaxs(0, 0);
    method.visitEnd();
    writer.visitEnd();
    return writer.toByteArray();
  }

  private static byte[] forged(Consumer<MethodVisitor> body) {
    return forged(Opcodes.V17, NAME, body);
  }

  @Test
  void aHarmlessOnePasses() throws Exception {
    assertThat(refused(forged(m -> m.visitInsn(Opcodes.ACONST_NULL)))).isEmpty();
  }

  @Test
  void aConstantMadeByACall() throws Exception {
    byte[] bytes =
        forged(m -> m.visitLdcInsn(new ConstantDynamic("secret", "Ljava/lang/Object;", BOOTSTRAP)));
    assertThat(refused(bytes))
        .containsExactly(
            "cell first, line 2: a constant made by a call may not stand in a cell: what it "
                + "calls cannot be seen. Use a plain constant");
  }

  @Test
  void aConstantMadeByACallAmongTheArgumentsOfABinding() throws Exception {
    Handle concat = new Handle(
        Opcodes.H_INVOKESTATIC,
        "java/lang/invoke/StringConcatFactory",
        "makeConcatWithConstants",
        "(Ljava/lang/invoke/MethodHandles$Lookup;Ljava/lang/String;Ljava/lang/invoke/MethodType;"
            + "Ljava/lang/String;[Ljava/lang/Object;)Ljava/lang/invoke/CallSite;",
        false);
    byte[] bytes = forged(m -> m.visitInvokeDynamicInsn(
        "makeConcatWithConstants",
        "()Ljava/lang/String;",
        concat,
        "\u0002",
        new ConstantDynamic("secret", "Ljava/lang/Object;", BOOTSTRAP)));
    assertThat(refused(bytes))
        .containsExactly(
            "cell first, line 2: a constant made by a call may not stand in a cell: what it "
                + "calls cannot be seen. Use a plain constant");
  }

  @Test
  void aCallBoundByAMethodOfItsOwn() throws Exception {
    byte[] bytes = forged(m -> m.visitInvokeDynamicInsn("go", "()Ljava/lang/Object;", BOOTSTRAP));
    assertThat(refused(bytes))
        .containsExactly("cell first, line 2: a call bound by "
            + "java.lang.invoke.ConstantBootstraps.nullConstant may not stand in a cell: what it calls "
            + "cannot be seen. Call the method by its name");
  }

  @Test
  void aHandleThatAssigns() throws Exception {
    Handle put =
        new Handle(Opcodes.H_PUTSTATIC, "org/slabnote/engine/gate/Open", "field", "I", false);
    assertThat(refused(forged(m -> m.visitLdcInsn(put))))
        .contains(
            "cell first, line 2: org.slabnote.engine.gate.Open.field may not be assigned in a cell: "
                + "other steps read it. Use a variable of the cell");
  }

  @Test
  void aHandleOfWhatIsRefused() throws Exception {
    Handle exit = new Handle(Opcodes.H_INVOKESTATIC, "java/lang/System", "exit", "(I)V", false);
    assertThat(refused(forged(m -> m.visitLdcInsn(exit))))
        .containsExactly(
            "cell first, line 2: java.lang.System.exit may not be used in a cell: the machine "
                + "and the process stay outside a cell, so that a stranger's notebook can be run. "
                + "State what you need in the notebook");
  }

  @Test
  void aHandlerThatHoldsUpErrors() throws Exception {
    byte[] bytes = forged(m -> {
      Label start = new Label();
      Label end = new Label();
      m.visitTryCatchBlock(start, end, end, null);
      m.visitLabel(start);
      m.visitInsn(Opcodes.ACONST_NULL);
      m.visitInsn(Opcodes.ARETURN);
      m.visitLabel(end);
      m.visitFrame(Opcodes.F_SAME1, 0, null, 1, new Object[] {"java/lang/Throwable"});
    });
    assertThat(refused(bytes))
        .containsExactly(
            "cell first, line 2: a finally that holds up errors may not stand in a cell: it "
                + "would swallow the engine's own stop. Compile the cell again");
  }

  @Test
  void aClassUnderAnotherName() throws Exception {
    byte[] bytes = forged(Opcodes.V17, "java/lang/Evil", m -> m.visitInsn(Opcodes.ACONST_NULL));
    assertThat(refused(bytes))
        .containsExactly("cell first, line 2: what was compiled as REPL.$JShell$1 calls itself "
            + "java/lang/Evil, so nothing is known of it. Empty the cache folder and run again");
  }

  @Test
  void aClassForANewerJava() throws Exception {
    byte[] bytes = forged(Opcodes.V21, NAME, m -> m.visitInsn(Opcodes.ACONST_NULL));
    assertThat(refused(bytes))
        .containsExactly(
            "cell first, line 2: what was compiled as REPL.$JShell$1 is made for another Java "
                + "than 17, so nothing is known of it. Empty the cache folder and run again");
  }

  @Test
  void whatIsNoClassFile() throws Exception {
    assertThat(refused(new byte[] {1, 2, 3}))
        .containsExactly(
            "cell first, line 2: what was compiled as REPL.$JShell$1 is no class file, so "
                + "nothing is known of it. Empty the cache folder and run again");
  }

  @Test
  void aMemberThatOnlyANewerJdkHas() throws Exception {
    byte[] bytes = forged(m -> {
      m.visitLdcInsn("a b");
      m.visitMethodInsn(
          Opcodes.INVOKEVIRTUAL,
          "java/lang/String",
          "splitWithDelimiters",
          Type.getMethodDescriptor(
              Type.getType(String[].class), Type.getType(String.class), Type.INT_TYPE),
          false);
    });
    assertThat(refused(bytes))
        .hasSize(1)
        .allMatch(
            m -> m.startsWith(
                "cell first, line 2: java.lang.String.splitWithDelimiters may not be used in a cell: "));
  }
}
