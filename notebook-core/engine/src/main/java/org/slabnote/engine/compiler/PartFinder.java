package org.slabnote.engine.compiler;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassVisitor;
import org.objectweb.asm.FieldVisitor;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Label;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.Opcodes;
import org.slabnote.worker.Trail;

/** Reads a statement's byte code for what it reads of the job, and whether it changes things in place. */
final class PartFinder {
  private static final String API = "org/slabnote/";
  private static final String NOTEBOOK = "org/slabnote/api/Notebook";

  /** How methods that change their object are named, in the JDK and in the libraries that cells see. */
  private static final Pattern CHANGES = Pattern.compile(
      "(add|append|clear|compute|delete|drain|fill|insert|merge|offer|poll|pop|push|put|remove|replace"
          + "|retain|reverse|rotate|set|shuffle|sort|swap|accumulate|increment|decrement|update)"
          + "([A-Z].*)?");

  /** Owners whose objects never change. */
  private static final Pattern UNCHANGING = Pattern.compile(
      "org/slabnote/.*|java/lang/(String|Math|StrictMath|Double|Integer)|java/math/.*"
          + "|java/util/stream/.*|java/util/(Optional.*|Map\\$Entry)|java/time/.*");

  private static final Set<String> FIXED = Set.of(
      "Ljava/lang/String;",
      "Ljava/lang/Double;",
      "Ljava/lang/Float;",
      "Ljava/lang/Integer;",
      "Ljava/lang/Long;",
      "Ljava/lang/Short;",
      "Ljava/lang/Byte;",
      "Ljava/lang/Character;",
      "Ljava/lang/Boolean;");

  private final Statement statement;
  private final Set<Reading> readings = new LinkedHashSet<>();
  private boolean shared;
  private boolean changes;

  PartFinder(Statement statement) {
    this.statement = statement;
  }

  List<Reading> readings() {
    return new ArrayList<>(readings);
  }

  boolean shared() {
    return shared;
  }

  boolean changes() {
    return changes;
  }

  void look(byte[] bytes) {
    new ClassReader(bytes)
        .accept(
            new ClassVisitor(Opcodes.ASM9) {
              private boolean top;

              @Override
              public void visit(
                  int v, int access, String name, String sig, String superName, String[] ifs) {
                top = name.equals(statement.wrapper().replace('.', '/'));
              }

              @Override
              public @Nullable FieldVisitor visitField(
                  int access, String name, String descriptor, String sig, Object value) {
                if (top && statement.kind() == Statement.Kind.VARIABLE) {
                  boolean fixed = descriptor.length() == 1
                      || FIXED.contains(descriptor)
                      || descriptor.startsWith("L" + API);
                  shared |= !fixed;
                }
                return null;
              }

              @Override
              public MethodVisitor visitMethod(
                  int access, String name, String descriptor, String sig, String[] exceptions) {
                return new Body(name.equals("<init>"));
              }
            },
            ClassReader.SKIP_DEBUG);
  }

  /** Follows calls that go down from the job sheet, the survey table or the cuts, one after another. */
  private final class Body extends MethodVisitor {
    private final boolean constructor;
    private Trail.@Nullable Kind root;
    private final List<String> path = new ArrayList<>();
    /** Constants that were pushed on top of the part, as elements of a path. */
    private final List<String> pushed = new ArrayList<>();

    private @Nullable String constant;

    Body(boolean constructor) {
      super(Opcodes.ASM9);
      this.constructor = constructor;
    }

    private void begin(Trail.Kind of, List<String> start) {
      end();
      root = of;
      path.addAll(start);
    }

    private void end() {
      Trail.Kind of = root;
      if (of != null) {
        readings.add(new Reading(of, path));
      }
      root = null;
      path.clear();
      pushed.clear();
      constant = null;
    }

    private void push(String element) {
      if (root != null) {
        pushed.add(element);
      }
      constant = element;
    }

    @Override
    public void visitMethodInsn(
        int opcode, String owner, String name, String descriptor, boolean isInterface) {
      String named = constant;
      constant = null;
      Trail.Kind of = owner.equals(NOTEBOOK) ? root(name) : null;
      if (of != null) {
        boolean byName = descriptor.startsWith("(Ljava/lang/String;)");
        end();
        begin(of, byName && named != null ? List.of(named) : List.of());
        return;
      }
      if (root != null && goesDown(owner, name, descriptor)) {
        return;
      }
      end();
      changes |= changes(owner, name);
    }

    private boolean goesDown(String owner, String name, String descriptor) {
      if (pushed.isEmpty() && isComponent(owner, name, descriptor)) {
        path.add("." + name);
        return true;
      }
      boolean list = owner.equals("java/util/List") && name.equals("get");
      boolean map = Set.of("java/util/Map", "java/util/SortedMap").contains(owner)
          && Set.of("get", "getOrDefault", "containsKey").contains(name);
      int arguments = name.equals("getOrDefault") ? 2 : 1;
      if ((list || map) && pushed.size() == arguments) {
        path.add((list ? "#" : "@") + pushed.get(0).substring(1));
        pushed.clear();
        if (map) {
          end();
        }
        return true;
      }
      return false;
    }

    @Override
    public void visitLdcInsn(Object value) {
      if (value instanceof String text) {
        push("@" + text);
      } else {
        end();
      }
    }

    @Override
    public void visitIntInsn(int opcode, int operand) {
      if (opcode == Opcodes.BIPUSH || opcode == Opcodes.SIPUSH) {
        push("#" + operand);
      } else {
        end();
      }
    }

    @Override
    public void visitInsn(int opcode) {
      if (opcode >= Opcodes.ICONST_0 && opcode <= Opcodes.ICONST_5) {
        push("#" + (opcode - Opcodes.ICONST_0));
        return;
      }
      end();
      changes |= opcode >= Opcodes.IASTORE && opcode <= Opcodes.SASTORE;
    }

    @Override
    public void visitFieldInsn(int opcode, String owner, String name, String descriptor) {
      if (opcode == Opcodes.GETSTATIC && descriptor.equals("L" + owner + ";") && root != null) {
        push("@" + name);
        return;
      }
      end();
      changes |= opcode == Opcodes.PUTFIELD && !constructor;
    }

    @Override
    public void visitTypeInsn(int opcode, String type) {
      if (opcode != Opcodes.CHECKCAST || !pushed.isEmpty()) {
        end();
      }
    }

    @Override
    public void visitInvokeDynamicInsn(
        String name, String descriptor, Handle bootstrap, Object... arguments) {
      end();
      for (Object one : arguments) {
        if (one instanceof Handle handle) {
          Trail.Kind of = handle.getOwner().equals(NOTEBOOK) ? root(handle.getName()) : null;
          if (of != null) {
            begin(of, List.of());
            end();
          }
          changes |= changes(handle.getOwner(), handle.getName());
        }
      }
    }

    @Override
    public void visitVarInsn(int opcode, int index) {
      end();
    }

    @Override
    public void visitJumpInsn(int opcode, Label label) {
      end();
    }

    @Override
    public void visitLabel(Label label) {
      end();
    }

    @Override
    public void visitIincInsn(int index, int by) {
      end();
    }

    @Override
    public void visitTableSwitchInsn(int least, int most, Label otherwise, Label... labels) {
      end();
    }

    @Override
    public void visitLookupSwitchInsn(Label otherwise, int[] keys, Label[] labels) {
      end();
    }

    @Override
    public void visitMultiANewArrayInsn(String descriptor, int dimensions) {
      end();
    }

    @Override
    public void visitEnd() {
      end();
    }
  }

  private static boolean changes(String owner, String method) {
    return CHANGES.matcher(method).matches() && !UNCHANGING.matcher(owner).matches();
  }

  private static Trail.@Nullable Kind root(String method) {
    return switch (method) {
      case "job" -> Trail.Kind.JOB;
      case "survey" -> Trail.Kind.SURVEY;
      case "cuts" -> Trail.Kind.CUTS;
      default -> null;
    };
  }

  private static boolean isComponent(String owner, String name, String descriptor) {
    if (!owner.startsWith("org/slabnote/api/") || !descriptor.startsWith("()")) {
      return false;
    }
    try {
      Class<?> type =
          Class.forName(owner.replace('/', '.'), false, PartFinder.class.getClassLoader());
      if (!type.isRecord()) {
        return false;
      }
      for (var component : type.getRecordComponents()) {
        if (component.getName().equals(name)) {
          return true;
        }
      }
      return false;
    } catch (ClassNotFoundException e) {
      return false; // a type that this engine does not know: the whole counts as read
    }
  }
}
