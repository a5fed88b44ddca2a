package org.slabnote.worker.run;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URL;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collections;
import java.util.Enumeration;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Param;
import org.slabnote.api.Plugin;
import org.slabnote.api.Purpose;
import org.slabnote.api.Table;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.Length;
import org.slabnote.fake.FakePlugin;
import org.slabnote.worker.Job;
import org.slabnote.worker.RunListener;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.Failure;
import org.slabnote.worker.TapeMaker;

class PluginsTest {
  @TempDir
  Path folder;

  /** A plugin of an id and operations. */
  abstract static class Some implements Plugin {
    private final String id;
    private final List<Class<?>> operations;

    Some(String id, Class<?>... operations) {
      this.id = id;
      this.operations = List.of(operations);
    }

    @Override
    public String id() {
      return id;
    }

    @Override
    public String summary() {
      return "for tests";
    }

    @Override
    public List<Class<?>> operations() {
      return operations;
    }
  }

  /** Takes an id that is taken. */
  public static final class Twin extends Some {
    /** Makes it. */
    public Twin() {
      super("fake");
    }
  }

  /** Cannot be made. */
  public static final class Broken extends Some {
    /** Fails. */
    public Broken() {
      super("broken");
      throw new UnsupportedOperationException("needs a newer machine");
    }
  }

  /** Offers an operation under a foreign prefix. */
  public static final class Misnamed extends Some {
    /** Makes it. */
    public Misnamed() {
      super("misnamed", Foreign.class);
    }
  }

  /** Offers an operation with a range that nobody can read. */
  public static final class BadRange extends Some {
    /** Makes it. */
    public BadRange() {
      super("badrange", Ranged.class);
    }
  }

  /** Of no plugin's prefix. */
  @Op(id = "other.foreign", revision = 1, purpose = Purpose.MODEL)
  public record Foreign() implements Operation<Table> {
    @Override
    public Table apply(Work work) {
      return new Table(List.of());
    }
  }

  /** With a bad range. */
  @Op(id = "badrange.ranged", revision = 1, purpose = Purpose.MODEL)
  public record Ranged(
      @Param(meaning = "length", from = "3 furlongs") Length length) implements Operation<Table> {
    @Override
    public Table apply(Work work) {
      return new Table(List.of());
    }
  }

  private RunOutcome run(TapeMaker cells, Object... providers) throws IOException {
    StringBuilder names = new StringBuilder();
    for (Object provider : providers) {
      names
          .append(provider instanceof Class<?> type ? type.getName() : provider)
          .append('\n');
    }
    URL services = Files.writeString(folder.resolve("services"), names).toUri().toURL();
    ClassLoader loader = new ClassLoader(getClass().getClassLoader()) {
      @Override
      public Enumeration<URL> getResources(String name) throws IOException {
        return name.equals("META-INF/services/" + Plugin.class.getName())
            ? Collections.enumeration(List.of(services))
            : super.getResources(name);
      }
    };
    return new InProcessWorker(loader).run(new Job(folder).request(cells), RunListener.NONE);
  }

  private static TapeMaker table() {
    return new TapeMaker().cell("a", 1).say("table(\"t\", run(new Rows(2)));");
  }

  @Test
  void namesAndSetsAsideWhatCannotBeLoaded() throws IOException {
    RunOutcome outcome =
        run(table(), Broken.class, FakePlugin.class, Misnamed.class, BadRange.class, "gone.Plugin");
    assertThat(outcome.failures()).isEmpty();
    assertThat(outcome.plugins()).extracting(RunOutcome.PluginFact::id).containsExactly("fake");
    assertThat(outcome.setAside()).hasSize(4);
    assertThat(outcome.setAside().get(0).provider()).isEqualTo(Broken.class.getName());
    assertThat(outcome.setAside().get(0).cause())
        .endsWith("UnsupportedOperationException: needs a newer machine");
    assertThat(outcome.setAside().get(1).cause())
        .isEqualTo(
            "plugin misnamed offers other.foreign; expected an id that begins with misnamed and a "
                + "dot");
    assertThat(outcome.setAside().get(2).cause()).contains("furlongs");
    assertThat(outcome.setAside().get(3).cause()).contains("gone.Plugin");
  }

  @Test
  void refusesTwoPluginsOfOneId() throws IOException {
    RunOutcome outcome = run(table(), FakePlugin.class, Twin.class);
    assertThat(outcome.failures()).hasSize(1);
    assertThat(outcome.failures().get(0).kind()).isEqualTo(Failure.Kind.PLUGIN);
    assertThat(outcome.failures().get(0).text())
        .isEqualTo("plugin fake is there twice: "
            + "org.slabnote.fake.FakePlugin in test-classes and "
            + "org.slabnote.worker.run.PluginsTest$Twin in test-classes. Remove one of the two");
  }

  @Test
  void refusesToRunWithoutAnyPlugin() throws IOException {
    assertThat(run(table(), Broken.class).failures().get(0).message())
        .startsWith("no plugin could be loaded (")
        .endsWith("Install Slabnote again");
  }

  @Test
  void refusesAnOperationOfAPluginThatIsNotThere() throws IOException {
    RunOutcome outcome = run(
        new TapeMaker().cell("a", 1).say("run(new org.slabnote.fake.Rows(2));"),
        PluginsOther.class);
    assertThat(outcome.failures().get(0).text())
        .isEqualTo("cell a, line 1: fake.rows (org.slabnote.fake.Rows) "
            + "is offered by no plugin that was loaded; expected it in the list of its plugin. "
            + "Perhaps the plugin was set aside");
  }

  /** Another plugin. */
  public static final class PluginsOther extends Some {
    /** Makes it. */
    public PluginsOther() {
      super("elsewhere");
    }

    @Override
    public List<org.slabnote.api.ScanFormat> scanFormats() {
      return new FakePlugin()
          .scanFormats().stream()
              .<org.slabnote.api.ScanFormat>map(format -> new org.slabnote.api.ScanFormat() {
                @Override
                public String id() {
                  return "elsewhere.text";
                }

                @Override
                public int revision() {
                  return 1;
                }

                @Override
                public boolean recognises(String file, byte[] head) {
                  return format.recognises(file, head);
                }

                @Override
                public org.slabnote.api.Scan read(byte[] bytes, org.slabnote.api.SurveyRow row) {
                  return format.read(bytes, row);
                }
              })
              .toList();
    }
  }
}
