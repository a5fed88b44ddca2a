package org.slabnote.engine.stop;

import java.util.ArrayList;
import java.util.List;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.MethodTooLargeException;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.InsnList;
import org.objectweb.asm.tree.JumpInsnNode;
import org.objectweb.asm.tree.LabelNode;
import org.objectweb.asm.tree.LineNumberNode;
import org.objectweb.asm.tree.LookupSwitchInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.TableSwitchInsnNode;
import org.slabnote.worker.stop.StopPoint;

/**
 * Puts a stop point at each method entry and each jump back of a class: whatever goes on for ever in
 * it, by a loop or by calls, passes one again and again.
 *
 * <p>A stop point is a call without arguments and result: it leaves the operand stack, the local
 * variables and so the stack map frames as they are.
 *
 * @since 0.1
 */
public final class StopPoints {
  private static final String OWNER = StopPoint.class.getName().replace('.', '/');

  private StopPoints() {}

  /**
   * The class with stop points.
   *
   * @param classFile a class of a cell that the gate has let through; not changed
   */
  public static byte[] into(byte[] classFile) {
    ClassNode node = new ClassNode();
    new ClassReader(classFile).accept(node, 0);
    node.methods.forEach(StopPoints::insert);
    ClassWriter writer = new ClassWriter(0);
    node.accept(writer);
    try {
      return writer.toByteArray();
    } catch (MethodTooLargeException e) {
      return classFile.clone(); // just below the limit of a method: it runs without
    }
  }

  private static void insert(MethodNode method) {
    InsnList code = method.instructions;
    if (code.size() == 0) {
      return; // abstract
    }
    List<AbstractInsnNode> back = new ArrayList<>();
    for (AbstractInsnNode at : code) {
      for (LabelNode target : targets(at)) {
        if (code.indexOf(target) < code.indexOf(at)) {
          back.add(at);
          break;
        }
      }
    }
    back.forEach(jump -> code.insertBefore(jump, call()));
    code.insert(entry(code));
  }

  private static List<LabelNode> targets(AbstractInsnNode at) {
    if (at instanceof JumpInsnNode jump) {
      return List.of(jump.label);
    }
    List<LabelNode> targets = new ArrayList<>();
    if (at instanceof TableSwitchInsnNode one) {
      targets.addAll(one.labels);
      targets.add(one.dflt);
    } else if (at instanceof LookupSwitchInsnNode one) {
      targets.addAll(one.labels);
      targets.add(one.dflt);
    }
    return targets;
  }

  /** Before all that is there, with the method's first line: a loop may begin at the first label. */
  private static InsnList entry(InsnList code) {
    InsnList entry = new InsnList();
    for (AbstractInsnNode at : code) {
      if (at instanceof LineNumberNode first) {
        LabelNode start = new LabelNode();
        entry.add(start);
        entry.add(new LineNumberNode(first.line, start));
        break;
      }
    }
    entry.add(call());
    return entry;
  }

  private static MethodInsnNode call() {
    return new MethodInsnNode(Opcodes.INVOKESTATIC, OWNER, "check", "()V", false);
  }
}
