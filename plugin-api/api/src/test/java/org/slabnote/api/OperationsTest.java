package org.slabnote.api;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.slabnote.api.quantity.Quantities.MHz;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.mm;
import static org.slabnote.api.quantity.Quantities.ns;
import static org.slabnote.api.quantity.Quantities.ratio;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Ratio;
import org.slabnote.api.quantity.TimeSpan;

class OperationsTest {

  @Op(id = "test.shift", revision = 1, purpose = Purpose.FILTER)
  record Shift(
      @Param(meaning = "one to two periods", from = "0.1 ns", to = "50 ns")
      TimeSpan window,

      @Param(meaning = "a share", from = "", to = "100 %") Ratio share,
      @Param(meaning = "traces", from = "1") int traces,

      @Param(meaning = "a length, if any", from = "10 mm", to = "1 m")
      Optional<Length> length)
      implements Filter<Scan> {
    @Override
    public Scan apply(Scan input, Work work) {
      return input;
    }

    @Override
    public Amplitudes amplitudes() {
      return Amplitudes.UNCHANGED;
    }
  }

  @Op(id = "test.pair", revision = 1, purpose = Purpose.POLARIZATION)
  record Pair(
      @Role(Orientation.ACROSS) Steps<Scan> across,
      @Role(Orientation.ALONG) Step<Scan> along,
      Optional<Step<Scan>> third)
      implements Operation<Integer> {
    @Override
    public Integer apply(Work work) {
      return 1;
    }
  }

  private static Shift shift() {
    return new Shift(ns(1), ratio(0.5), 3, Optional.empty());
  }

  private static Scan scan(double dipole) {
    return new Scan(
        "E04",
        dipole == 90 ? "a" : "b",
        new Antenna(deg(dipole), deg(dipole), mm(60), MHz(2000)),
        new TimeAxis(ns(0), ns(0.1), 1),
        Track.between(Point.of(0, 0), Point.of(0, 0), 1),
        Samples.of(1),
        Optional.empty(),
        Optional.empty(),
        List.of());
  }

  @Test
  void namesOperationParameterValueUnitAndRange() {
    assertThatThrownBy(() -> Operations.check(new Shift(ns(80), ratio(0.5), 3, Optional.empty())))
        .hasMessage(
            "test.shift: window = 80 ns is outside 0.1 ns to 50 ns. Expected: one to two periods");
    assertThatThrownBy(() -> Operations.check(new Shift(ns(1), ratio(1.5), 3, Optional.empty())))
        .hasMessage("test.shift: share = 150 % is above 100 %. Expected: a share");
    assertThatThrownBy(() -> Operations.check(new Shift(ns(1), ratio(0.5), 0, Optional.empty())))
        .hasMessage("test.shift: traces = 0 is below 1. Expected: traces");
    assertThatThrownBy(() -> Operations.check(new Shift(ns(1), ratio(0.5), 3, Optional.of(mm(5)))))
        .hasMessage(
            "test.shift: length = 5 mm is outside 10 mm to 1 m. Expected: a length, if any");
  }

  @Test
  void boundsAreInclusive() {
    assertThatCode(() -> {
          Operations.check(new Shift(ns(0.1), ratio(1), 1, Optional.of(mm(10))));
          Operations.check(new Shift(ns(50), ratio(-7), Integer.MAX_VALUE, Optional.of(mm(1000))));
        })
        .doesNotThrowAnyException();
  }

  @Test
  void tellsInputsFromParameters() {
    assertThat(Operations.components(Pair.class))
        .allMatch(Operations.Component::input)
        .hasSize(3);
    assertThat(Operations.components(Shift.class))
        .noneMatch(Operations.Component::input)
        .hasSize(4);
    assertThat(Operations.components(Pair.class).get(1).role()).contains(Orientation.ALONG);
    assertThat(Operations.parameters(shift()))
        .isEqualTo("window = 1 ns, share = 0.5, traces = 3, length = Optional.empty");
    assertThatThrownBy(() -> Operations.value(shift(), "widow"))
        .hasMessage(Shift.class.getName() + " has no component widow");
  }

  @Test
  void refusesSwappedOrientations() {
    Steps<Scan> across = Steps.given(new TreeMap<>(Map.of("E04", scan(90))));
    Steps<Scan> wrong = Steps.given(new TreeMap<>(Map.of("E04", scan(0))));
    Step<Scan> along = Step.given(scan(0));
    assertThat(Operations.apply(new Pair(across, along, Optional.empty()), Work.serial("t")))
        .isEqualTo(1);
    assertThatThrownBy(
            () -> Operations.apply(new Pair(wrong, along, Optional.empty()), Work.serial("t")))
        .hasMessage(
            "test.pair: across = scan E04, channel b, which is ALONG; expected ACROSS. Perhaps the two"
                + " orientations are swapped");
  }

  @Test
  void writesTheHistory() {
    Scan done = Step.given(scan(90)).then(shift()).get();
    assertThat(done.history())
        .containsExactly(new Treatment(
            "test.shift",
            "window = 1 ns, share = 0.5, traces = 3, length = Optional.empty",
            Amplitudes.UNCHANGED));
  }

  @Test
  void refusesWhatCannotBeRecorded() {
    Operation<Integer> lambda = work -> 1;
    assertThatThrownBy(() -> Operations.apply(lambda, Work.serial("t")))
        .hasMessageContaining("is no operation; expected a record annotated @Op");
  }

  @Test
  void quotesCsvCellsThatNeedIt() {
    Table table = new Table(List.of(
        new Table.Text("name", List.of("a,b", "say \"so\"")),
        new Table.Numbers("depth_m", Doubles.of(0.05, Double.NaN), 3)));
    assertThat(table.csv()).isEqualTo("name,depth_m\n\"a,b\",0.050\n\"say \"\"so\"\"\",\n");
    assertThatThrownBy(() -> table.column("depth"))
        .hasMessage("no column depth; the table has name, depth_m");
    assertThatThrownBy(() ->
            new Table(List.of(new Table.Text("a", List.of("1")), new Table.Text("b", List.of()))))
        .hasMessage("column b has 0 rows; expected 1 as in a");
  }
}
