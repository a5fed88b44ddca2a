package org.slabnote.engine.run;

import java.nio.file.Path;
import java.util.Optional;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeSet;
import org.slabnote.worker.RunOutcome;

/** Values that came with the outcome, and those that the store keeps. */
final class StoredValues implements Values {
  /** Reads a value from a store. */
  interface Reader {
    /**
     * The value.
     *
     * @param store folder of the store
     * @param sha256 digest of its encoding
     */
    Optional<Object> read(Path store, String sha256);
  }

  private final SortedMap<String, RunOutcome.ValueFact> facts;
  private final Path store;
  private final Reader reader;

  StoredValues(SortedMap<String, RunOutcome.ValueFact> facts, Path store, Reader reader) {
    this.facts = facts;
    this.store = store;
    this.reader = reader;
  }

  @Override
  public SortedSet<String> addresses() {
    return new TreeSet<>(facts.keySet());
  }

  @Override
  public Optional<Object> find(String address) {
    RunOutcome.ValueFact fact = facts.get(address);
    if (fact == null) {
      return Optional.empty();
    }
    return fact.value().isPresent() ? fact.value() : reader.read(store, fact.sha256());
  }
}
