package org.slabnote.engine.run;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.StringWriter;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.jar.Attributes;
import java.util.jar.JarOutputStream;
import java.util.jar.Manifest;
import java.util.zip.ZipEntry;
import javax.tools.FileObject;
import javax.tools.ForwardingJavaFileManager;
import javax.tools.JavaCompiler;
import javax.tools.JavaFileManager;
import javax.tools.JavaFileObject;
import javax.tools.SimpleJavaFileObject;
import javax.tools.ToolProvider;

/** Builds a jar from Java sources, as a stranger would. */
final class JarMaker {
  private final List<JavaFileObject> sources = new ArrayList<>();
  private final SortedMap<String, byte[]> entries = new TreeMap<>();
  private final List<Path> classPath = new ArrayList<>();
  private final List<Path> first = new ArrayList<>();
  private final Manifest manifest = new Manifest();

  JarMaker() {
    manifest.getMainAttributes().put(Attributes.Name.MANIFEST_VERSION, "1.0");
  }

  /** Adds a source file; the class is named as the file is. */
  JarMaker source(String name, String text) {
    sources.add(
        new SimpleJavaFileObject(
            URI.create("memory:///" + name.replace('.', '/') + ".java"),
            JavaFileObject.Kind.SOURCE) {
          @Override
          public CharSequence getCharContent(boolean ignoreErrors) {
            return text;
          }
        });
    return this;
  }

  /** Adds a plugin class of an id, with operations by simple name; more of its body may follow. */
  JarMaker plugin(String className, String id, String operations, String more) {
    int dot = className.lastIndexOf('.');
    entry("META-INF/services/org.slabnote.api.Plugin", className + "\n");
    return source(className, """
        package %s;
        import java.util.List;
        import org.slabnote.api.*;
        public final class %s implements Plugin {
          public String id() { return "%s"; }
          public String summary() { return "for tests"; }
          public List<Class<?>> operations() { return List.of(%s); }
          %s
        }
        """.formatted(
            className.substring(0, dot), className.substring(dot + 1), id, operations, more));
  }

  JarMaker coordinates(String group, String artifact, String version) {
    return entry(
        "META-INF/maven/" + group + "/" + artifact + "/pom.properties",
        "groupId=" + group + "\nartifactId=" + artifact + "\nversion=" + version + "\n");
  }

  JarMaker manifest(String name, String value) {
    manifest.getMainAttributes().putValue(name, value);
    return this;
  }

  JarMaker entry(String name, String text) {
    return entry(name, text.getBytes(StandardCharsets.UTF_8));
  }

  JarMaker entry(String name, byte[] bytes) {
    entries.put(name, bytes);
    return this;
  }

  /** Compiles against a jar that is not put in. */
  JarMaker against(Path jar) {
    classPath.add(jar);
    return this;
  }

  /** Compiles against a jar before all else, where it has classes that others have too. */
  JarMaker first(Path jar) {
    first.add(jar);
    return this;
  }

  Path build(Path file) throws IOException {
    compile();
    Files.createDirectories(file.getParent());
    try (JarOutputStream jar = new JarOutputStream(Files.newOutputStream(file), manifest)) {
      for (Map.Entry<String, byte[]> one : entries.entrySet()) {
        jar.putNextEntry(new ZipEntry(one.getKey()));
        jar.write(one.getValue());
      }
    }
    return file;
  }

  private void compile() {
    if (sources.isEmpty()) {
      return;
    }
    JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
    Map<String, ByteArrayOutputStream> out = new TreeMap<>();
    StringBuilder path = new StringBuilder();
    first.forEach(jar -> path.append(jar).append(java.io.File.pathSeparator));
    path.append(System.getProperty("java.class.path"));
    classPath.forEach(jar -> path.append(java.io.File.pathSeparator).append(jar));
    StringWriter told = new StringWriter();
    JavaFileManager files =
        new ForwardingJavaFileManager<>(
            compiler.getStandardFileManager(null, null, StandardCharsets.UTF_8)) {
          @Override
          public JavaFileObject getJavaFileForOutput(
              Location location, String name, JavaFileObject.Kind kind, FileObject sibling) {
            return new SimpleJavaFileObject(
                URI.create("memory:///" + name.replace('.', '/') + ".class"), kind) {
              @Override
              public OutputStream openOutputStream() {
                ByteArrayOutputStream bytes = new ByteArrayOutputStream();
                out.put(name, bytes);
                return bytes;
              }
            };
          }
        };
    List<String> options =
        List.of("--release", "17", "-proc:none", "-g", "-nowarn", "-cp", path.toString());
    if (!compiler.getTask(told, files, null, options, null, sources).call()) {
      throw new IllegalStateException("the plugin does not compile: " + told);
    }
    out.forEach((name, bytes) -> entry(name.replace('.', '/') + ".class", bytes.toByteArray()));
  }
}
