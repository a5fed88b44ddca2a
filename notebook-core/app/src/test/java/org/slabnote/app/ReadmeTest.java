package org.slabnote.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;

/** The README, the guide and the commands tell the same. */
class ReadmeTest {
  private static final Pattern COMMAND =
      Pattern.compile("(?:^ {2,}|`)(slabnote [a-z-][^`#>|&\\[\\n]*)", Pattern.MULTILINE);

  private static Path root() {
    Path folder = Path.of("").toAbsolutePath();
    while (!Files.isDirectory(folder.resolve(".mvn"))) {
      folder = folder.getParent();
    }
    return folder;
  }

  @Test
  void theFirstBlockHoldsTheDemoAndTheTests() throws IOException {
    String readme = Files.readString(root().resolve("README.md"));
    Matcher block = Pattern.compile("```sh\\n(.*?)```", Pattern.DOTALL).matcher(readme);
    assertThat(block.find()).isTrue();
    List<String> commands =
        block.group(1).lines().map(line -> line.replaceAll("#.*", "").strip()).toList();
    assertThat(commands).containsExactly("mvn -q -Pdemo verify", "mvn -B verify");
    assertThat(Files.readString(root().resolve(".ci/run"))).contains("\nmvn -B verify\n");
    assertThat(Files.readString(root().resolve("pom.xml"))).contains("<id>demo</id>");
  }

  @Test
  void everyCommandThatIsWrittenDownIsOne() throws IOException {
    List<String> commands = new ArrayList<>();
    try (Stream<Path> guide = Files.walk(root().resolve("docs/guide"))) {
      List<Path> pages = new ArrayList<>(guide.filter(Files::isRegularFile).toList());
      pages.add(root().resolve("README.md"));
      for (Path page : pages) {
        Matcher found = COMMAND.matcher(Files.readString(page));
        while (found.find()) {
          commands.add(found.group(1).strip());
        }
      }
    }
    assertThat(commands).hasSizeGreaterThan(10);
    for (String command : commands) {
      String[] words = command.substring("slabnote ".length()).split(" ");
      Terminal nowhere = new Terminal(
          new ByteArrayOutputStream(), new ByteArrayOutputStream(), false, false, Map.of());
      if (words[0].equals("help")
          || words[0].startsWith("-")
          || areNames(CommandLines.of(nowhere, new FakeBench()), words)) {
        continue; // the command's name only, or help
      }
      assertThatCode(() -> CommandLines.of(nowhere, new FakeBench()).parseArgs(words))
          .as(command)
          .doesNotThrowAnyException();
    }
  }

  private static boolean areNames(CommandLine line, String[] words) {
    CommandLine at = line;
    for (String word : words) {
      CommandLine next = at.getSubcommands().get(word);
      if (next == null) {
        return false;
      }
      at = next;
    }
    return true;
  }

  @Test
  void everyLinkLeadsToAFile() throws IOException {
    Pattern link = Pattern.compile("\\]\\(([^)#:]+)\\)");
    int seen = 0;
    List<Path> pages = new ArrayList<>();
    try (Stream<Path> docs = Files.walk(root().resolve("docs"))) {
      docs.filter(page -> page.toString().endsWith(".md")).forEach(pages::add);
    }
    pages.add(root().resolve("README.md"));
    pages.add(root().resolve("DEVELOPERS.md"));
    for (Path page : pages) {
      Matcher found = link.matcher(Files.readString(page));
      while (found.find()) {
        seen++;
        assertThat(page.resolveSibling(found.group(1))).exists();
      }
    }
    assertThat(seen).isGreaterThan(10);
  }
}
