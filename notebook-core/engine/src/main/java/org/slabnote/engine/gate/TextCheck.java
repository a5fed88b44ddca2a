package org.slabnote.engine.gate;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.IntFunction;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.LineNumberNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;
import org.objectweb.asm.tree.analysis.Analyzer;
import org.objectweb.asm.tree.analysis.AnalyzerException;
import org.objectweb.asm.tree.analysis.BasicValue;
import org.objectweb.asm.tree.analysis.Frame;

/** Refuses to show what has no text of its own, and formats that show identity. */
final class TextCheck {
  private static final String TO_STRING = "toString()Ljava/lang/String;";
  private static final String STAND_IN = "slabnote$";
  private static final Set<String> STAND_INS =
      Set.of("text", "ownText", "textOfAll", "append", "insert", "format");
  private static final String CONCAT = "java/lang/invoke/StringConcatFactory";

  /** Calls that make a text of an argument: how many lie above it on the stack. */
  private static final Map<String, Integer> SHOWS = Map.of(
      "java/lang/String.valueOf(Ljava/lang/Object;)Ljava/lang/String;", 0,
      "java/util/Objects.toString(Ljava/lang/Object;)Ljava/lang/String;", 0,
      "java/util/Objects.toString(Ljava/lang/Object;Ljava/lang/String;)Ljava/lang/String;", 1,
      "java/lang/StringBuilder.append(Ljava/lang/Object;)Ljava/lang/StringBuilder;", 0,
      "java/lang/StringBuilder.insert(ILjava/lang/Object;)Ljava/lang/StringBuilder;", 0,
      "java/lang/AssertionError.<init>(Ljava/lang/Object;)V", 0);

  private static final Set<String> SHOWS_ELEMENTS = Set.of(
      "java/util/Arrays.toString([Ljava/lang/Object;)Ljava/lang/String;",
      "java/util/Arrays.deepToString([Ljava/lang/Object;)Ljava/lang/String;");
  private static final Pattern FORMAT = Pattern.compile("%[-#+ 0,(<$.\\d\u0001]*([hHtTn])");

  private static final Map<String, String> WHY = Map.of(
      "h", "hash codes of objects differ from run to run. Use %s",
      "t", "dates hang on the time zone of the machine. Dates stand in job.toml",
      "n", "the end of a line differs between machines. Use \\n");

  private final Texts texts;
  private final ClassWorld world;
  private final Map<String, ClassNode> cells;
  private final Refusals refusals;
  private int line;

  TextCheck(Texts texts, ClassWorld world, Map<String, ClassNode> cells, Refusals refusals) {
    this.texts = texts;
    this.world = world;
    this.cells = cells;
    this.refusals = refusals;
  }

  void check(ClassNode node, int statementLine) {
    for (MethodNode method : node.methods) {
      line = statementLine;
      if (shows(method)) {
        try {
          Analyzer<BasicValue> analyzer = new Analyzer<>(new ValueFlow(world, cells));
          method(method, analyzer.analyze(node.name, method));
        } catch (AnalyzerException | RuntimeException e) {
          refusals.say(
              line,
              node.name,
              "the method " + method.name
                  + " cannot be followed: it is not what the compiler makes. Compile the cell again");
        }
      }
    }
  }

  private static boolean shows(MethodNode method) {
    for (AbstractInsnNode at : method.instructions) {
      if (at instanceof InvokeDynamicInsnNode
          || at instanceof MethodInsnNode call
              && (isStandIn(call)
                  || SHOWS.containsKey(key(call))
                  || SHOWS_ELEMENTS.contains(key(call))
                  || call.name.equals("toString")
                  || call.name.equals("getSimpleName")
                  || isFormat(call))) {
        return true;
      }
    }
    return false;
  }

  private static String key(MethodInsnNode call) {
    return call.owner + "." + call.name + call.desc;
  }

  private static boolean isFormat(MethodInsnNode call) {
    return (call.name.equals("format") || call.name.endsWith("$format"))
        && call.desc.endsWith("Ljava/lang/String;[Ljava/lang/Object;)Ljava/lang/String;");
  }

  private void method(MethodNode method, Frame<BasicValue>[] frames) {
    for (int i = 0; i < frames.length; i++) {
      AbstractInsnNode at = method.instructions.get(i);
      Frame<BasicValue> frame = frames[i];
      if (at instanceof LineNumberNode next) {
        line = next.line;
      } else if (frame != null) {
        IntFunction<@Nullable Value> top = down -> frame.getStackSize() > down
                && frame.getStack(frame.getStackSize() - 1 - down) instanceof Value value
            ? value
            : null;
        if (at instanceof MethodInsnNode call) {
          call(method, frames, call, top);
        } else if (at instanceof InvokeDynamicInsnNode call) {
          dynamic(call, top);
        }
      }
    }
  }

  private void call(
      MethodNode method,
      Frame<BasicValue>[] frames,
      MethodInsnNode call,
      IntFunction<@Nullable Value> top) {
    if (isStandIn(call) && !method.name.startsWith(STAND_IN)) {
      standIn(method, frames, call, top);
      return;
    }
    Integer down = SHOWS.get(key(call));
    if (down != null) {
      shown(top.apply(down));
    } else if (SHOWS_ELEMENTS.contains(key(call))) {
      elements(method, frames, top.apply(0));
    } else if (isFormat(call)) {
      format(top.apply(1));
      elements(method, frames, top.apply(0));
    } else if ((call.name + call.desc).equals(TO_STRING)
        && call.getOpcode() != Opcodes.INVOKESTATIC) {
      shown(top.apply(0));
    } else if (call.owner.equals("java/lang/Class") && call.name.equals("getSimpleName")) {
      className(top.apply(0));
    }
  }

  /** What the rewriter put in place of a call that shows its arguments. */
  private static boolean isStandIn(MethodInsnNode call) {
    String name = call.name.startsWith(STAND_IN) ? call.name.substring(STAND_IN.length()) : "";
    return STAND_INS.contains(name) || name.matches("joined\\d+");
  }

  private void standIn(
      MethodNode method,
      Frame<BasicValue>[] frames,
      MethodInsnNode call,
      IntFunction<@Nullable Value> top) {
    int arguments = Type.getArgumentTypes(call.desc).length;
    if (call.name.endsWith("$format")) {
      format(top.apply(1));
      elements(method, frames, top.apply(0));
    } else if (call.name.endsWith("$textOfAll")) {
      elements(method, frames, top.apply(0));
    } else {
      boolean appends = call.name.endsWith("$append") || call.name.endsWith("$insert");
      for (int i = 0; i < (appends ? 1 : arguments); i++) {
        shown(top.apply(arguments - 1 - (appends ? arguments - 1 : i)));
      }
    }
  }

  private void dynamic(InvokeDynamicInsnNode call, IntFunction<@Nullable Value> top) {
    Type[] types = Type.getArgumentTypes(call.desc);
    if (call.bsm.getOwner().equals(CONCAT)) {
      for (int i = 0; i < types.length; i++) {
        shown(top.apply(types.length - 1 - i));
      }
      return;
    }
    for (Object one : call.bsmArgs) {
      if (one instanceof Handle handle && call.bsmArgs[call.bsmArgs.length - 1] instanceof Type) {
        reference(handle, call, top);
      }
    }
  }

  /** {@code Object::toString}: what it is applied to stands in the last argument. */
  private void reference(
      Handle handle, InvokeDynamicInsnNode call, IntFunction<@Nullable Value> top) {
    String member = handle.getOwner() + "." + handle.getName() + handle.getDesc();
    boolean text = (handle.getName() + handle.getDesc()).equals(TO_STRING)
        || handle.getName().equals(STAND_IN + "ownText")
        || handle.getName().equals(STAND_IN + "text");
    boolean name = member.equals("java/lang/Class.getSimpleName()Ljava/lang/String;");
    if (!text && !name && !SHOWS.containsKey(member)) {
      return;
    }
    Type[] bound = Type.getArgumentTypes(call.desc);
    Value of = null;
    if (bound.length > 0) {
      of = top.apply(0);
    } else if (call.bsmArgs.length > 2 && call.bsmArgs[2] instanceof Type type) {
      Type[] given = type.getSort() == Type.METHOD ? type.getArgumentTypes() : new Type[0];
      of = given.length > 0 ? Value.of(given[given.length - 1]) : null;
    }
    if (name) {
      className(of);
    } else {
      shown(of);
    }
  }

  private void shown(@Nullable Value value) {
    texts
        .textless(value)
        .ifPresent(what -> refusals.say(
            line,
            what,
            "the text of " + what
                + " may not be used in a cell: it has none of its own and shows its "
                + "place in memory, which differs from run to run. " + instead(what)));
  }

  private static String instead(String what) {
    return what.contains("an array") ? "Use Arrays.toString, or a list" : "Show what it holds";
  }

  private void className(@Nullable Value of) {
    Value named = of == null ? null : of.classOf;
    boolean cell = named != null
        && named.getType().getSort() == Type.OBJECT
        && !named.getType().getInternalName().equals("java/lang/Object");
    if (named == null || !cell || texts.isLambda(named)) {
      refusals.say(
          line,
          "getSimpleName",
          "java.lang.Class.getSimpleName" + Refusals.MAY_NOT
              + "what is not known to be of a class with a name may be a lambda, whose name differs from "
              + "run to run. Use it on a variable of the class or interface itself, or write the name");
    }
  }

  private void elements(MethodNode method, Frame<BasicValue>[] frames, @Nullable Value array) {
    if (array == null) {
      return;
    }
    if (array.origin == null || array.origin.getOpcode() != Opcodes.ANEWARRAY) {
      Type type = array.getType();
      if (type.getSort() == Type.ARRAY && type.getDimensions() == 1) {
        shown(Value.of(type.getElementType()));
      }
      return;
    }
    Map<Integer, Value> stored = new LinkedHashMap<>();
    for (int i = 0; i < frames.length; i++) {
      Frame<BasicValue> frame = frames[i];
      if (frame != null
          && method.instructions.get(i).getOpcode() == Opcodes.AASTORE
          && frame.getStack(frame.getStackSize() - 3) instanceof Value into
          && into.origin == array.origin
          && frame.getStack(frame.getStackSize() - 1) instanceof Value value) {
        stored.put(i, value);
      }
    }
    stored.values().forEach(this::shown);
  }

  private void format(@Nullable Value format) {
    if (format == null) {
      return;
    }
    for (String text : format.texts) {
      var found = FORMAT.matcher(text.replace("%%", ""));
      while (found.find()) {
        refusals.say(
            line,
            "%" + found.group(1),
            "%" + found.group(1) + Refusals.MAY_NOT
                + WHY.get(found.group(1).toLowerCase(Locale.ROOT)));
      }
    }
  }
}
