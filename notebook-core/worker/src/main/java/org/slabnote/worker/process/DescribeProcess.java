package org.slabnote.worker.process;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.slabnote.worker.PluginDescriber;
import org.slabnote.worker.PluginDescription;
import org.slabnote.worker.PluginJars;

/**
 * Loads plugins of third parties to ask what they are, each in a process that is thrown away: none
 * of their code runs in this one, and one that ends its process or never answers harms nothing.
 *
 * @since 0.1
 */
public final class DescribeProcess implements PluginDescriber {
  private static final int MEGABYTES = 256;
  private static final int SECONDS = 20;
  private static final int MOST_SAID = 300;

  private final List<String> classPath;
  private final Path javaHome;

  /**
   * Asks with the Java of this process.
   *
   * @param classPath jars and class folders of what plugins may use, absolute
   */
  public DescribeProcess(List<String> classPath) {
    this.classPath = List.copyOf(classPath);
    this.javaHome = Path.of(System.getProperty("java.home"));
  }

  @Override
  public PluginDescription describe(PluginJars plugin) {
    try (TemporaryFolder folder = TemporaryFolder.make()) {
      return ask(plugin, folder.path());
    } catch (IOException e) {
      return PluginDescription.unfit("the process to load it apart cannot be started: " + e);
    }
  }

  private PluginDescription ask(PluginJars plugin, Path folder) throws IOException {
    Process process = new Launch(javaHome, classPath, MEGABYTES, DescribeMain.class).start(folder);
    Said said = new Said(process.getErrorStream());
    Thread clock = new Thread(() -> killAtTheLimit(process), "describe-clock");
    clock.setDaemon(true);
    clock.start();
    try {
      Pipe pipe = new Pipe(process.getInputStream(), process.getOutputStream());
      pipe.send(new Message.Describe(plugin));
      Optional<Message> answer = pipe.receive();
      if (answer.isPresent() && answer.get() instanceof Message.Described described) {
        process.destroyForcibly();
        return described.plugin();
      }
    } catch (IOException e) {
      said.add(e.toString()); // told below with the exit status
    }
    return PluginDescription.unfit(gone(process, said));
  }

  private static void killAtTheLimit(Process process) {
    try {
      if (!process.waitFor(SECONDS, TimeUnit.SECONDS)) {
        process.destroyForcibly(); // only then: it would close what is not read yet
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private static String gone(Process process, Said said) {
    try {
      if (!process.waitFor(SECONDS, TimeUnit.SECONDS)) {
        process.destroyForcibly();
      }
      int status = process.waitFor();
      String text = said.text();
      return status == KILLED || status == KILLED_WINDOWS && text.isBlank()
          ? "it did not say what it is within " + SECONDS + " s, and its process was ended"
          : "it ended the process that loaded it (exit status " + status + ")"
              + (text.isBlank() ? "" : ", saying: " + text);
    } catch (InterruptedException e) {
      process.destroyForcibly();
      Thread.currentThread().interrupt();
      return "loading it was interrupted";
    }
  }

  private static final int KILLED = 128 + 9;
  private static final int KILLED_WINDOWS = 1;

  /** What the process printed. */
  private static final class Said {
    private final StringBuilder text = new StringBuilder();
    private final Thread follower;

    Said(InputStream from) {
      follower = new Thread(() -> follow(from), "describe-stderr");
      follower.setDaemon(true);
      follower.start();
    }

    private void follow(InputStream from) {
      try {
        byte[] buffer = new byte[4096];
        for (int n = from.read(buffer); n >= 0; n = from.read(buffer)) {
          add(new String(buffer, 0, n, StandardCharsets.UTF_8));
        }
      } catch (IOException e) {
        add(e.toString());
      }
    }

    synchronized void add(String more) {
      if (text.length() < MOST_SAID) {
        text.append(more);
      }
    }

    String text() {
      try {
        follower.join(500);
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
      synchronized (this) {
        String all = text.toString().strip().replaceAll("\\s*\\R\\s*", " / ");
        return all.substring(0, Math.min(MOST_SAID, all.length()));
      }
    }
  }
}
