package org.slabnote.testkit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.TimeZone;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.slabnote.api.codec.Canonical;

/** What makes an operation a pure function. */
final class PurityMusts {
  private static final int AT_ONCE = 4;

  private PurityMusts() {}

  static void sameTwice(Subject subject) {
    byte[] first = subject.bytes(TestWork.serial());
    same(subject, first, subject.bytes(TestWork.serial()), "the second run");
  }

  static void sameInParallel(Subject subject) throws InterruptedException {
    byte[] alone = subject.bytes(TestWork.serial());
    ExecutorService pool = Executors.newFixedThreadPool(AT_ONCE);
    try {
      List<Future<byte[]>> runs = new ArrayList<>();
      for (int i = 0; i < AT_ONCE; i++) {
        runs.add(pool.submit(() -> subject.bytes(TestWork.serial())));
      }
      for (Future<byte[]> run : runs) {
        same(subject, alone, run.get(), "one of " + AT_ONCE + " runs at once");
      }
    } catch (ExecutionException e) {
      throw new AssertionError(subject.id() + ": stopped when several ran at once", e.getCause());
    } finally {
      pool.shutdownNow();
    }
  }

  static void sameWithThreads(Subject subject) {
    byte[] one = subject.bytes(TestWork.serial());
    for (int threads : new int[] {2, 3, 7}) {
      same(
          subject,
          one,
          subject.bytes(TestWork.threads(threads)),
          "the run with " + threads + " threads");
    }
  }

  static void sameAnywhere(Subject subject) {
    byte[] here = subject.bytes(TestWork.serial());
    Locale locale = Locale.getDefault();
    TimeZone zone = TimeZone.getDefault();
    try {
      // Turkish has its own capital of i; Arabic may have other digits; both write decimal commas.
      for (String tag : new String[] {"tr-TR", "ar-SA-u-nu-arab", "de-DE"}) {
        Locale.setDefault(Locale.forLanguageTag(tag));
        TimeZone.setDefault(TimeZone.getTimeZone("Pacific/Chatham"));
        same(subject, here, subject.bytes(TestWork.serial()), "the run in locale " + tag);
      }
    } finally {
      Locale.setDefault(locale);
      TimeZone.setDefault(zone);
    }
  }

  static void inputUntouched(Subject subject, List<byte[]> before) {
    subject.run(TestWork.serial());
    List<byte[]> after = subject.inputBytes();
    for (int i = 0; i < before.size(); i++) {
      if (!Arrays.equals(before.get(i), after.get(i))) {
        throw new AssertionError(subject.id() + ": input " + (i + 1)
            + " is another after the run; expected it untouched");
      }
    }
  }

  static void resultSurvives(Subject subject) {
    Object result = subject.run(TestWork.serial());
    byte[] bytes = Canonical.encode(result);
    Object back = Canonical.decode(bytes, subject.record().getClass().getClassLoader());
    if (!back.equals(result) || !Arrays.equals(bytes, Canonical.encode(back))) {
      throw new AssertionError(
          subject.id() + ": its result comes back from its encoding as another value;"
              + " expected an equal one. Result types must compare by content");
    }
  }

  private static void same(Subject subject, byte[] expected, byte[] found, String run) {
    int at = Arrays.mismatch(expected, found);
    if (at >= 0) {
      throw new AssertionError(subject.id() + ": " + run + " differs from the first at byte " + at
          + " of " + expected.length + "; expected the same bytes");
    }
  }
}
