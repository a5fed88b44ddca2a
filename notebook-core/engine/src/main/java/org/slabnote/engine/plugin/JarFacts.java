package org.slabnote.engine.plugin;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Properties;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.jar.Attributes;
import java.util.jar.JarFile;
import java.util.jar.Manifest;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;

/**
 * What a jar states of itself, read as a file: nothing of it is loaded.
 *
 * <p>Coordinates come from {@code META-INF/maven/GROUP/ARTIFACT/pom.properties}; where there are
 * several, from the one whose artifact begins the file's name; where there is none, from {@code
 * Implementation-Vendor-Id}, {@code Implementation-Title} and {@code Implementation-Version} of the
 * manifest. What is not stated stays empty, but the artifact is then the file's name.
 *
 * @param group group of its coordinates, or empty
 * @param artifact artifact of its coordinates
 * @param version version of its coordinates, or empty
 * @param apiVersion plugin API that it needs, {@code Slabnote-Plugin-Api} of the manifest, or empty
 * @param packages packages that it has classes of, dots between the parts
 * @param inside coordinates of libraries that it holds within itself
 * @param classPath {@code Class-Path} of the manifest, which leads nowhere here; empty where none
 * @since 0.1
 */
public record JarFacts(
    String group,
    String artifact,
    String version,
    String apiVersion,
    SortedSet<String> packages,
    List<String> inside,
    String classPath) {
  /** Manifest attribute in which a plugin states the API it was made for, {@code 1.2} say. */
  public static final String API_ATTRIBUTE = "Slabnote-Plugin-Api";

  private static final Pattern PROPERTIES =
      Pattern.compile("META-INF/maven/[^/]+/[^/]+/pom\\.properties");
  private static final int MOST_BYTES = 1 << 20;

  private record Coordinates(String group, String artifact, String version) {
    String text() {
      return group + ":" + artifact + (version.isEmpty() ? "" : ":" + version);
    }
  }

  /**
   * Reads a jar.
   *
   * @throws IOException if it cannot be read, or is no jar
   */
  public static JarFacts read(Path path) throws IOException {
    String name = String.valueOf(path.getFileName()).replaceFirst("\\.jar$", "");
    SortedSet<String> packages = new TreeSet<>();
    List<Coordinates> stated = new ArrayList<>();
    Attributes attributes;
    try (JarFile jar = new JarFile(path.toFile(), false)) {
      Manifest manifest = jar.getManifest();
      attributes = manifest == null ? new Attributes() : manifest.getMainAttributes();
      for (ZipEntry entry : jar.stream().toList()) {
        String file = entry.getName();
        int slash = file.lastIndexOf('/');
        if (file.endsWith(".class") && slash > 0 && !file.startsWith("META-INF/")) {
          packages.add(file.substring(0, slash).replace('/', '.'));
        } else if (PROPERTIES.matcher(file).matches()) {
          stated.add(coordinates(jar, entry));
        }
      }
    }
    Coordinates own = stated.size() == 1
        ? stated.get(0)
        : stated.stream()
            .filter(one -> name.equals(one.artifact()) || name.startsWith(one.artifact() + "-"))
            .max(java.util.Comparator.comparing(one -> one.artifact().length()))
            .orElseGet(() -> ofManifest(attributes, name));
    return new JarFacts(
        own.group(),
        own.artifact(),
        own.version(),
        value(attributes, API_ATTRIBUTE),
        packages,
        stated.stream()
            .filter(one -> !one.equals(own))
            .map(Coordinates::text)
            .sorted()
            .toList(),
        String.valueOf(attributes.getOrDefault(Attributes.Name.CLASS_PATH, "")));
  }

  private static Coordinates coordinates(JarFile jar, ZipEntry entry) throws IOException {
    Properties properties = new Properties();
    try (InputStream in = jar.getInputStream(entry)) {
      properties.load(
          new java.io.StringReader(new String(in.readNBytes(MOST_BYTES), StandardCharsets.UTF_8)));
    } catch (IllegalArgumentException e) {
      throw new IOException(entry.getName() + " is no properties file", e);
    }
    String[] parts = entry.getName().split("/");
    return new Coordinates(
        plain(properties.getProperty("groupId", parts[2])),
        plain(properties.getProperty("artifactId", parts[3])),
        plain(properties.getProperty("version", "")));
  }

  private static Coordinates ofManifest(Attributes attributes, String name) {
    String title = value(attributes, "Implementation-Title");
    return new Coordinates(
        value(attributes, "Implementation-Vendor-Id"),
        title.isEmpty() ? plain(name) : title,
        value(attributes, "Implementation-Version"));
  }

  private static String value(Attributes attributes, String name) {
    return plain(attributes.getValue(name) == null ? "" : attributes.getValue(name));
  }

  /** Keeps what coordinates are made of, so that a line of the lock stays a line. */
  private static String plain(String text) {
    return text.strip().replaceAll("[^A-Za-z0-9._+-]", "-");
  }
}
