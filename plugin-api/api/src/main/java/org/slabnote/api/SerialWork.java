package org.slabnote.api;

import java.util.SplittableRandom;
import java.util.function.IntConsumer;
import java.util.random.RandomGenerator;

/** Work on the calling thread. */
record SerialWork(String address) implements Work {
  @Override
  public void forEach(int n, IntConsumer body) {
    for (int i = 0; i < n; i++) {
      body.accept(i);
    }
  }

  @Override
  public RandomGenerator random(long seed) {
    return new SplittableRandom(seed);
  }

  @Override
  public void progress(double share) {}

  @Override
  public void checkCancelled() {}

  @Override
  public String source(String label) {
    return address + "#" + label;
  }

  @Override
  public String commonSource(String label) {
    int pass = address.lastIndexOf('/');
    return (pass < 0 ? address : address.substring(0, pass)) + "#" + label;
  }
}
