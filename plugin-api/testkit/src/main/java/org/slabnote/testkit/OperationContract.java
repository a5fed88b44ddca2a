package org.slabnote.testkit;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicContainer;
import org.junit.jupiter.api.DynamicNode;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.function.Executable;
import org.slabnote.api.Filter;
import org.slabnote.api.Operation;
import org.slabnote.api.Operations;
import org.slabnote.api.Scan;

/**
 * Holds an operation or filter to the plugin contract: a test for each rule of {@link Must} that
 * applies to it.
 *
 * <pre>{@code
 * class DewowContractTest {
 *   @TestFactory Stream<DynamicNode> contract() { return OperationContract.of(new Dewow(ns(1.0))); }
 * }
 * }</pre>
 *
 * <p>An operation brings its inputs with it ({@code new SurfaceTime(Step.given(scan))}); a filter of
 * scans is tried on invented scans. Each call should take under a second: give small inputs.
 *
 * @since 0.1
 */
public final class OperationContract {
  private OperationContract() {}

  /** Returns the tests of an operation, on the inputs it holds. */
  public static Stream<DynamicNode> of(Operation<?> operation) {
    return tests(new Subject(operation, null));
  }

  /** Returns the tests of a filter of scans, on an invented scan whose surface time is known. */
  public static Stream<DynamicNode> of(Filter<Scan> filter) {
    return of(filter, InventedScan.ordinary().build());
  }

  /** Returns the tests of a filter on {@code input}: where the usual scan does not suit it. */
  public static <V> Stream<DynamicNode> of(Filter<V> filter, V input) {
    return tests(new Subject(filter, input));
  }

  private static Stream<DynamicNode> tests(Subject subject) {
    // Taken now: once the other tests have run, a spoilt input would no longer change.
    List<byte[]> before = subject.inputBytes();
    List<DynamicNode> tests = new ArrayList<>();
    for (Must must : Must.values()) {
      if (applies(must, subject)) {
        tests.add(DynamicTest.dynamicTest(must.words(), check(must, subject, before)));
      }
    }
    String name = Operations.describe(subject.record().getClass()).id();
    return Stream.of(DynamicContainer.dynamicContainer(name, tests));
  }

  static boolean applies(Must must, Subject subject) {
    return switch (must) {
      case ONE_TRACE, ONE_SAMPLE -> subject.hasScan();
      case AMPLITUDES_STATED -> subject.isFilter();
      case AMPLITUDES_KEPT, HISTORY_LEFT -> subject.isFilter() && subject.hasScan();
      case ZERO_DELAY, LINEAR, SCALE_FREE, KEEPS_POLARITY, TRACE_BY_TRACE ->
        subject.hasScan()
            && subject.record() instanceof Filter<?> filter
            && filter.claims().contains(Filter.Claim.valueOf(must.name()));
      default -> true;
    };
  }

  static Executable check(Must must, Subject subject, List<byte[]> before) {
    return switch (must) {
      case DESCRIBED -> () -> ParameterMusts.described(subject);
      case PARAMETERS_SURVIVE -> () -> ParameterMusts.survive(subject);
      case RANGES_REFUSED -> () -> ParameterMusts.rangesRefused(subject);
      case SAME_TWICE -> () -> PurityMusts.sameTwice(subject);
      case SAME_IN_PARALLEL -> () -> PurityMusts.sameInParallel(subject);
      case SAME_WITH_THREADS -> () -> PurityMusts.sameWithThreads(subject);
      case SAME_ANYWHERE -> () -> PurityMusts.sameAnywhere(subject);
      case INPUT_UNTOUCHED -> () -> PurityMusts.inputUntouched(subject, before);
      case RESULT_SURVIVES -> () -> PurityMusts.resultSurvives(subject);
      case PROGRESS -> () -> WorkMusts.progress(subject);
      case CANCEL -> () -> WorkMusts.cancel(subject);
      case ONE_TRACE -> () -> SmallScanMusts.oneTrace(subject);
      case ONE_SAMPLE -> () -> SmallScanMusts.oneSample(subject);
      case AMPLITUDES_STATED -> () -> FilterMusts.amplitudesStated(subject);
      case AMPLITUDES_KEPT -> () -> new FilterMusts(subject).amplitudesKept();
      case HISTORY_LEFT -> () -> new FilterMusts(subject).historyLeft();
      case ZERO_DELAY -> () -> new FilterMusts(subject).zeroDelay();
      case LINEAR -> () -> new FilterMusts(subject).linear();
      case SCALE_FREE -> () -> new FilterMusts(subject).scaleFree();
      case KEEPS_POLARITY -> () -> new FilterMusts(subject).keepsPolarity();
      case TRACE_BY_TRACE -> () -> new FilterMusts(subject).traceByTrace();
    };
  }
}
