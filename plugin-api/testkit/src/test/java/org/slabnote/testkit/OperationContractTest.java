package org.slabnote.testkit;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicContainer;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.slabnote.api.Step;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.TimeSpan;
import org.slabnote.testkit.Faulty.FaultyFilter;
import org.slabnote.testkit.Faulty.Way;

/** The contract catches what it is there for, and nothing else. */
class OperationContractTest {

  /** A faulty operation, the rules it breaks, and a part of what is said of it. */
  record Fault(String name, Supplier<Subject> subject, Set<Must> broken, String said) {
    @Override
    public String toString() {
      return name;
    }
  }

  private static Fault operation(
      String name, Supplier<Object> record, String said, Must... broken) {
    Set<Must> rules = EnumSet.copyOf(Arrays.asList(broken));
    return new Fault(name, () -> new Subject(record.get(), null), rules, said);
  }

  private static Fault filter(Way way, String said, Must... broken) {
    return new Fault(
        way.name(),
        () -> new Subject(new FaultyFilter(way), InventedScan.ordinary().build()),
        EnumSet.copyOf(Arrays.asList(broken)),
        said);
  }

  static Stream<Fault> faults() {
    return Stream.of(
        operation(
            "no meaning",
            () -> new Faulty.NoMeaning(new Length(1)),
            "faulty.nameless: window has no @Param with a meaning",
            Must.DESCRIBED),
        operation(
            "wrong id", Faulty.WrongId::new, "id = Faulty; expected plugin.name", Must.DESCRIBED),
        operation(
            "other kind",
            () -> new Faulty.OtherKind(new Length(1)),
            "window is in m, but its @Param says '0 ns'",
            Must.DESCRIBED),
        operation(
            "loose parameter",
            () -> new Faulty.LooseParameter(new Faulty.Loose(1)),
            "faulty.loose: loose = Loose[number=1.0] comes back from its encoding as",
            Must.PARAMETERS_SURVIVE),
        operation(
            "clamped",
            () -> new Faulty.Clamped(new TimeSpan(1.5)),
            "is not refused; its @Param says 1 ns to 2 ns",
            Must.RANGES_REFUSED),
        operation(
            "curt",
            () -> new Faulty.Curt(new TimeSpan(1.5)),
            "is refused without naming '2.03125 ns': window too large",
            Must.RANGES_REFUSED),
        operation(
            "counter",
            Faulty.Counter::new,
            "the second run differs from the first",
            Must.SAME_TWICE,
            Must.SAME_IN_PARALLEL,
            Must.SAME_WITH_THREADS,
            Must.SAME_ANYWHERE),
        operation(
            "thread name",
            Faulty.ThreadName::new,
            "one of 4 runs at once differs",
            Must.SAME_IN_PARALLEL),
        operation(
            "order of items",
            Faulty.OrderOfItems::new,
            "threads differs from the first",
            Must.SAME_WITH_THREADS),
        operation(
            "locale",
            Faulty.LocalNumbers::new,
            "the run in locale tr-TR differs",
            Must.SAME_ANYWHERE),
        operation(
            "spoiler",
            () -> new Faulty.Spoiler(Step.given(Faulty.box())),
            "faulty.spoiler: input 1 is another after the run",
            Must.INPUT_UNTOUCHED),
        operation(
            "loose result",
            Faulty.LooseResult::new,
            "its result comes back from its encoding as another value",
            Must.RESULT_SURVIVES),
        operation("silent", Faulty.Silent::new, "no progress was reported", Must.PROGRESS),
        operation("falling", Faulty.Falling::new, "progress 0.4 after 0.5", Must.PROGRESS),
        operation(
            "swallows cancel",
            Faulty.SwallowsCancel::new,
            "cancelled after 0 looks, yet it gave a result",
            Must.CANCEL),
        operation(
            "wraps cancel",
            Faulty.WrapsCancel::new,
            "a cancel came out as java.lang.IllegalStateException: stopped",
            Must.CANCEL),
        operation(
            "never looks", Faulty.NeverLooks::new, "looked for a cancel 0 times in", Must.CANCEL),
        operation(
            "second trace",
            () -> new Faulty.NeedsASecondTrace(Step.given(InventedScan.bare().build())),
            "on scans of one trace it threw java.lang.ArrayIndexOutOfBounds",
            Must.ONE_TRACE),
        operation(
            "curt refusal",
            () -> new Faulty.RefusesCurtly(Step.given(InventedScan.bare().build())),
            "on scans of one sample a trace it threw",
            Must.ONE_SAMPLE),
        filter(Way.NULL_AMPLITUDES, "amplitudes() is null", Must.AMPLITUDES_STATED),
        filter(Way.UNCHANGED_DOUBLES, "states UNCHANGED, but", Must.AMPLITUDES_KEPT),
        filter(Way.SAME_LINEAR_SQUARES, "not linear", Must.AMPLITUDES_KEPT),
        filter(Way.SAME_LINEAR_MEAN_TRACE, "when the other traces change", Must.AMPLITUDES_KEPT),
        filter(
            Way.SAME_LINEAR_BY_PLACE,
            "treats trace 2 otherwise than trace 1",
            Must.AMPLITUDES_KEPT),
        filter(Way.WRITES_HISTORY, "history of the scan changed", Must.HISTORY_LEFT),
        filter(Way.DELAYS, "has its peak at 131", Must.ZERO_DELAY),
        filter(Way.NOT_LINEAR, "not linear", Must.LINEAR),
        filter(Way.CLIPS, "not free of scale", Must.SCALE_FREE),
        filter(Way.TURNS, "expected the same sign", Must.KEEPS_POLARITY),
        filter(Way.MIXES, "expected it to depend on itself only", Must.TRACE_BY_TRACE));
  }

  @ParameterizedTest
  @MethodSource("faults")
  void catchesEachFaultAndNoOther(Fault fault) {
    Set<Must> caught = EnumSet.noneOf(Must.class);
    List<String> said = new ArrayList<>();
    Subject subject = fault.subject().get();
    List<byte[]> before = subject.inputBytes();
    for (Must must : Must.values()) {
      if (OperationContract.applies(must, subject)) {
        try {
          OperationContract.check(must, subject, before).execute();
        } catch (Throwable broken) {
          caught.add(must);
          said.add(broken.getClass().getSimpleName() + " " + broken.getMessage());
        }
      }
    }
    assertThat(caught).as(said.toString()).isEqualTo(fault.broken());
    assertThat(said.get(0)).startsWith("AssertionError").contains(fault.said());
  }

  @Test
  void hasAFaultForEveryRule() {
    Set<Must> covered = EnumSet.noneOf(Must.class);
    faults().forEach(f -> covered.addAll(f.broken()));
    assertThat(covered).isEqualTo(EnumSet.allOf(Must.class));
  }

  @Test
  void letsASoundFilterPassEveryRule() throws Throwable {
    List<String> names = new ArrayList<>();
    var node = (DynamicContainer)
        OperationContract.of(new Faulty.Halved(0.5)).findFirst().orElseThrow();
    for (var child : node.getChildren().toList()) {
      names.add(child.getDisplayName());
      ((DynamicTest) child).getExecutable().execute();
    }
    assertThat(node.getDisplayName()).isEqualTo("sound.halved");
    assertThat(names).isEqualTo(Arrays.stream(Must.values()).map(Must::words).toList());
  }

  @Test
  void standsInTheTableOfTheContract() throws Exception {
    List<String> rows = Files.readAllLines(Path.of("../../docs/plugin-contract.md")).stream()
        .filter(line -> line.startsWith("| must |"))
        .map(line -> line.split("\\|")[2].strip())
        .toList();
    assertThat(rows).isEqualTo(Arrays.stream(Must.values()).map(Must::words).toList());
  }
}
