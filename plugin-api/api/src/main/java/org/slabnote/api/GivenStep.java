package org.slabnote.api;

/** A step whose value is at hand; filters run at once, serially. */
record GivenStep<R>(R value) implements Step<R> {
  @Override
  public R get() {
    return value;
  }

  @Override
  public Step<R> then(Filter<R> filter) {
    return new GivenStep<>(Operations.apply(filter, value, Work.serial("given")));
  }
}
