package org.slabnote.cancel;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.ServiceLoader;
import org.junit.jupiter.api.Test;
import org.slabnote.api.Plugin;

/**
 * A cancel takes effect when an operation looks for it: how long each goes without, on a large survey,
 * counted in its own processor time.
 */
class EveryOperationLooksForACancelTest {
  /** The promise is 200 ms of time that passes; classes that load and code still cold count here too. */
  private static final double MOST_MILLIS = 200;

  @Test
  void noOperationGoesWithoutALookForLong() {
    Map<Class<?>, LargeJob.Went> went = new LargeJob().read();
    if (Boolean.getBoolean("slabnote.figures")) {
      System.out.println(LargeJob.table(went));
    }
    List<Class<?>> offered = new ArrayList<>();
    ServiceLoader.load(Plugin.class).forEach(plugin -> offered.addAll(plugin.operations()));
    assertThat(offered).hasSizeGreaterThan(30);
    assertThat(went.keySet()).containsAll(offered);
    assertThat(went.values()).allMatch(one -> one.longestMillis() < MOST_MILLIS);
  }
}
