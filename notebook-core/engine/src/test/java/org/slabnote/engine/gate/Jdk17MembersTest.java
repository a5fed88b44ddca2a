package org.slabnote.engine.gate;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledForJreRange;
import org.junit.jupiter.api.condition.JRE;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.tree.ClassNode;

/**
 * The members in {@code jdk17.txt} are those of a JDK 17. Source: the class files of the JDK 17 that
 * runs this test. {@code -Dslabnote.pin=write} writes the file anew.
 */
class Jdk17MembersTest {
  private static final Path FILE = Path.of("src/main/resources/org/slabnote/engine/gate/jdk17.txt");
  private static final List<String> PACKAGES = List.of("java.math", "java.util.function");

  @Test
  @EnabledForJreRange(min = JRE.JAVA_17, max = JRE.JAVA_17)
  void theListIsWhatJdk17Has() throws Exception {
    Set<String> names = AllowList.standard(List.of()).namedClasses().stream()
        .filter(name -> name.startsWith("java."))
        .collect(Collectors.toCollection(TreeSet::new));
    for (String one : PACKAGES) {
      names.addAll(classesOf(one));
    }
    assertThat(names).hasSizeGreaterThan(150);
    StringBuilder out =
        new StringBuilder("# Members of JDK 17, one class a line; made by Jdk17MembersTest\n");
    for (String name : names) {
      out.append(name);
      members(name).forEach(member -> out.append(' ').append(member));
      out.append('\n');
    }
    if ("write".equals(System.getProperty("slabnote.pin"))) {
      Files.writeString(FILE, out);
    }
    assertThat(Files.readString(FILE).equals(out.toString()))
        .as("jdk17.txt holds what this JDK 17 has for the classes of allowed.txt")
        .isTrue();
  }

  private static Set<String> members(String name) throws Exception {
    Set<String> members = new TreeSet<>();
    try (InputStream in =
        ClassLoader.getSystemResourceAsStream(name.replace('.', '/') + ".class")) {
      assertThat(in).as(name).isNotNull();
      ClassNode node = new ClassNode();
      new ClassReader(in).accept(node, ClassReader.SKIP_CODE);
      int visible = Opcodes.ACC_PUBLIC | Opcodes.ACC_PROTECTED;
      node.methods.stream()
          .filter(m -> (m.access & visible) != 0 && (m.access & Opcodes.ACC_SYNTHETIC) == 0)
          .forEach(m -> members.add(m.name + m.desc));
      node.methods.stream()
          .filter(m -> (m.access & visible) != 0 && (m.access & Opcodes.ACC_BRIDGE) != 0)
          .forEach(m -> members.add(m.name + m.desc));
      node.fields.stream()
          .filter(f -> (f.access & visible) != 0)
          .forEach(f -> members.add(f.name + f.desc));
    }
    return members;
  }

  private static Set<String> classesOf(String packageName) throws Exception {
    Path jrt = Path.of(java.net.URI.create("jrt:/java.base/" + packageName.replace('.', '/')));
    try (var files = Files.list(jrt)) {
      return files
          .map(path -> path.getFileName().toString())
          .filter(name -> name.endsWith(".class") && !name.contains("$") && !name.contains("-"))
          .map(name -> packageName + "." + name.substring(0, name.length() - 6))
          .filter(Jdk17MembersTest::isPublic)
          .collect(Collectors.toCollection(TreeSet::new));
    }
  }

  private static boolean isPublic(String name) {
    try {
      return java.lang.reflect.Modifier.isPublic(Class.forName(name).getModifiers());
    } catch (ClassNotFoundException e) {
      throw new AssertionError(name, e);
    }
  }
}
