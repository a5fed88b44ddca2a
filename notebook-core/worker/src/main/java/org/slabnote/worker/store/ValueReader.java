package org.slabnote.worker.store;

import java.nio.file.Path;
import java.util.Optional;
import org.slabnote.api.codec.Canonical;
import org.slabnote.worker.RunOutcome;
import org.slabnote.worker.RunOutcome.ValueFact;

/**
 * Fetches the values of a run for figures and tables.
 *
 * <p>A value is there if it was demanded, or was slow to compute; nothing is computed here. Other
 * values: name the address in {@link org.slabnote.worker.RunRequest#more} and run again.
 *
 * @since 0.1
 */
public final class ValueReader {
  private final Store store;
  private final ClassLoader types;

  /**
   * Makes a reader.
   *
   * @param store folder of remembered steps
   * @param types finds the types of values: the API's loader serves for all values of the API
   */
  public ValueReader(Path store, ClassLoader types) {
    this.store = Store.at(store);
    this.types = types;
  }

  /** Returns the value of a step of a run, or its plain form; nothing where it is not there. */
  public Optional<Object> of(RunOutcome outcome, String address) {
    ValueFact fact = outcome.values().get(address);
    if (fact != null) {
      return fact.value().isPresent() ? fact.value() : byDigest(fact.sha256());
    }
    return outcome.steps().stream()
        .filter(step -> step.address().equals(address) && !step.key().isEmpty())
        .findFirst()
        .flatMap(step -> byKey(step.key()));
  }

  /** Returns the value remembered for a step's key; nothing where it is not there. */
  public Optional<Object> byKey(String key) {
    return store.digestOf(key).flatMap(this::byDigest);
  }

  /** Returns the value of a digest; nothing where it is not there or its type is not known. */
  public Optional<Object> byDigest(String sha256) {
    return store.bytes(sha256).flatMap(bytes -> {
      try {
        return Optional.of(Canonical.decode(bytes, types));
      } catch (IllegalArgumentException e) {
        return Optional.empty(); // of a type that this side does not have
      }
    });
  }
}
