package org.slabnote.tables;

import static org.assertj.core.api.Assertions.assertThat;
import static org.slabnote.api.quantity.Quantities.deg;
import static org.slabnote.api.quantity.Quantities.mm;

import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicNode;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Step;
import org.slabnote.api.Steps;
import org.slabnote.api.Table;
import org.slabnote.api.Targets;
import org.slabnote.api.Work;
import org.slabnote.testkit.OperationContract;

class TablesTest {
  private static final Step<Targets> TARGETS = Step.given(Things.targets());
  private static final Steps<Conclusion> VERDICTS =
      Steps.given(new TreeMap<>(Map.of("C1", Things.conclusion())));

  @Test
  void writesARowPerFindingAndLeavesCellsEmptyWhereThereIsNothingToTell() {
    assertThat(new TargetSchedule(TARGETS).apply(Work.serial("t")).csv()).isEqualTo("""
            name,kind,x_m,y_m,x2_m,y2_m,depth_m,depth_u95_m,across_u95_m,reference,diameter_m,strike_deg,pair_ratio_db,pair_ratio_u_db,probability,alternatives,status,evidence
            T01,not classified,0.400,0.000,0.400,1.200,0.0500,0.0040,0.0060,top,0.0120,90.0,,,,,probable,E01/across/1 E02/across/1
            T02,not classified,0.400,0.000,0.400,1.200,0.0300,0.0040,0.0060,top,0.0120,90.0,,,,,probable,E01/across/1 E02/across/1
            T03,metal,0.250,0.500,,,0.0600,0.0080,0.0080,top,0.0160,,4.60,0.40,0.900,water pipe,possible,E01/across/2
            """);
  }

  /** (0.299792458 / 0.109)^2 = 7.5646 and 2 x 7.5646 x 0.001 / 0.109 = 0.1388, by hand. */
  @Test
  void tellsTheVelocityUsedFirstAndThenItsMembers() {
    Table table = new VelocityTable(Step.given(Things.velocity())).apply(Work.serial("t"));
    assertThat(table.csv()).isEqualTo("""
            method,v_m_per_ns,v_u_m_per_ns,permittivity,permittivity_u,evidence
            weighted mean,0.10900,0.00100,7.565,0.139,one fit
            hyperbola fit,0.11000,0.00200,7.428,0.270,pass E01
            """);
  }

  @Test
  void tellsTheFiguresOfEachConclusion() {
    assertThat(new ClearanceTable(VERDICTS).apply(Work.serial("t")).csv()).isEqualTo("""
            cut,verdict,nearest,distance_m,required_m,margin_m,margin_u95_m,contact_probability_1,seen_to_m,smallest_m,statement
            C1,nothing detected within,T01,0.0560,0.0250,0.0310,0.0080,,,,nothing detected within 25 mm down to 180 mm
            """);
  }

  /** Depths 50 and 30 mm run at 90 degrees; the point has no direction: mean 40, half below 35. */
  @Test
  void countsCoverOfTheLinesThatRunOneWay() {
    Table table = new CoverStatistics(TARGETS, deg(-90), deg(10), mm(35)).apply(Work.serial("t"));
    assertThat(List.of(
            table.column("lines_1").text(0),
            table.column("least_m").text(0),
            table.column("mean_m").text(0),
            table.column("greatest_m").text(0),
            table.column("share_below_1").text(0)))
        .containsExactly("2", "0.0300", "0.0400", "0.0500", "0.500");
  }

  @Test
  void tellsWhatCouldNotBeSeenBesideWhatCould() {
    Table table = new VisibilityTable(Step.given(Things.visibility())).apply(Work.serial("t"));
    assertThat(table.column("part").text(0)).isEqualTo("E01 across");
    assertThat(table.column("part").text(1)).isEqualTo("not seen");
    assertThat(table.column("smallest_m").text(1)).isEmpty();
  }

  @TestFactory
  Stream<DynamicNode> targetSchedule() {
    return OperationContract.of(new TargetSchedule(TARGETS));
  }

  @TestFactory
  Stream<DynamicNode> velocityTable() {
    return OperationContract.of(new VelocityTable(Step.given(Things.velocity())));
  }

  @TestFactory
  Stream<DynamicNode> clearanceTable() {
    return OperationContract.of(new ClearanceTable(VERDICTS));
  }

  @TestFactory
  Stream<DynamicNode> eventTable() {
    return OperationContract.of(new EventTable(Step.given(Things.events())));
  }

  @TestFactory
  Stream<DynamicNode> visibilityTable() {
    return OperationContract.of(new VisibilityTable(Step.given(Things.visibility())));
  }

  @TestFactory
  Stream<DynamicNode> coverStatistics() {
    return OperationContract.of(new CoverStatistics(TARGETS, deg(90), deg(10), mm(30)));
  }
}
