package org.slabnote.worker;

import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.slabnote.api.Doubles;
import org.slabnote.api.Orientation;
import org.slabnote.api.Purpose;

/**
 * What a run did and found: the same bytes for the same request and plugins, whatever the threads,
 * the machine and the JDK, as far as plugins keep their contract.
 *
 * <p>A value of a type that the API does not have is told in plain form: an enum constant as its
 * name, a record as a sorted map of its components; lists, optionals and maps of these.
 *
 * @param plugins plugins that loaded, in order of id
 * @param setAside plugins that could not be loaded
 * @param scans scan files that the survey names, in its order, as far as they were recognised
 * @param cells cells in document order, up to the one that failed
 * @param steps steps in the order in which they were stated: inputs before what uses them
 * @param demands what was demanded, in the order in which it was
 * @param values by address: each demanded step that was computed, and {@link RunRequest#more}
 * @param bases by name of conclusion: what it rests on
 * @param failures what failed, in the order of the notebook; empty for a whole run
 * @param trail what each statement read and stated; not for the record
 * @since 0.1
 */
public record RunOutcome(
    List<PluginFact> plugins,
    List<SetAside> setAside,
    List<ScanFact> scans,
    List<CellFact> cells,
    List<StepFact> steps,
    List<Demand> demands,
    SortedMap<String, ValueFact> values,
    SortedMap<String, Basis> bases,
    List<Failure> failures,
    Trail trail) {

  /** Copies lists and maps. */
  public RunOutcome {
    plugins = List.copyOf(plugins);
    setAside = List.copyOf(setAside);
    scans = List.copyOf(scans);
    cells = List.copyOf(cells);
    steps = List.copyOf(steps);
    demands = List.copyOf(demands);
    values = Collections.unmodifiableSortedMap(new TreeMap<>(values));
    bases = Collections.unmodifiableSortedMap(new TreeMap<>(bases));
    failures = List.copyOf(failures);
  }

  /** Returns an outcome of which nothing is known but that it failed. */
  public static RunOutcome failed(Failure failure) {
    return failed(List.of(failure));
  }

  /** Returns an outcome of which nothing is known but what failed, in the order of the notebook. */
  public static RunOutcome failed(List<Failure> failures) {
    return new RunOutcome(
        List.of(),
        List.of(),
        List.of(),
        List.of(),
        List.of(),
        List.of(),
        new TreeMap<>(),
        new TreeMap<>(),
        failures,
        Trail.NONE);
  }

  /** Returns whether the run came to its end with nothing failed: only then may a record be written. */
  public boolean complete() {
    return failures.isEmpty();
  }

  /**
   * A plugin.
   *
   * @param id its prefix
   * @param jar file name of its jar, or of its class folder
   * @param version implementation version in the jar's manifest, for a third party's that of its
   *     coordinates; empty where it states none
   * @param sha256 digest of the jar; of names and contents for a class folder
   */
  public record PluginFact(String id, String jar, String version, String sha256) {}

  /**
   * A plugin that could not be loaded.
   *
   * @param provider its class as far as it is known; for a third party's its id, version and jar
   * @param cause why, in words
   */
  public record SetAside(String provider, String cause) {}

  /**
   * How a scan file is read.
   *
   * @param address address of the scan: {@code scan/PASS/CHANNEL}
   * @param file file as the survey table names it
   * @param format id of the format
   * @param revision revision of the format
   * @param remarks what the format remarks on the file, in words; empty where nothing needed the scan
   */
  public record ScanFact(
      String address, String file, String format, int revision, List<String> remarks) {
    /** Copies the list. */
    public ScanFact {
      remarks = List.copyOf(remarks);
    }
  }

  /**
   * A cell that was replayed.
   *
   * @param name name
   * @param sha256 digest of its text
   * @param got addresses of steps whose value it got, in the order of their statement
   * @param blocks names of csv blocks it read, in order of name
   */
  public record CellFact(String name, String sha256, List<String> got, List<String> blocks) {
    /** Copies the lists. */
    public CellFact {
      got = List.copyOf(got);
      blocks = List.copyOf(blocks);
    }
  }

  /**
   * A step.
   *
   * @param address {@code cell/variable}, {@code cell/variable/pass}, or for an unnamed one {@code
   *     cell/variable/op-id.ordinal} or {@code cell/op-id.ordinal}, with {@code /pass} behind it in
   *     a family
   * @param family address without the name within the family; like the address where it stands
   *     alone
   * @param member name within the family, a pass mostly; empty where it stands alone
   * @param cell cell that stated it; empty for a scan that no cell made but the survey names
   * @param line line in the notebook file of the statement
   * @param kind scan, filter or operation
   * @param operation id of the operation or, for a scan, of the format; empty for a scan whose file
   *     was not looked at
   * @param revision revision of it
   * @param purpose what the operation is for; empty for a scan
   * @param owner id of the plugin; empty for an operation that a cell declares
   * @param implementation digest of what computes it, part of the key
   * @param parameters parameters by name: quantities and other values of the API, text, numbers,
   *     or the plain form
   * @param inputs inputs in the order of the record's components
   * @param orientation orientation of the scan it is or comes from, where all its inputs agree
   * @param needed whether something demanded depends on it
   * @param key key in the store; empty where nothing needed it
   */
  public record StepFact(
      String address,
      String family,
      String member,
      String cell,
      int line,
      Kind kind,
      String operation,
      int revision,
      Optional<Purpose> purpose,
      String owner,
      String implementation,
      SortedMap<String, Object> parameters,
      List<Input> inputs,
      Optional<Orientation> orientation,
      boolean needed,
      String key) {
    /** Copies lists and maps. */
    public StepFact {
      parameters = Collections.unmodifiableSortedMap(new TreeMap<>(parameters));
      inputs = List.copyOf(inputs);
    }

    /** Kinds of step. */
    public enum Kind {
      /** A scan read from its file. */
      SCAN,
      /** A filter, applied to one step. */
      FILTER,
      /** An operation. */
      OPERATION
    }
  }

  /**
   * An input of a step.
   *
   * @param component name of the record's component; {@code input} for a filter
   * @param addresses addresses of the steps, one or, for a family, several
   */
  public record Input(String component, List<String> addresses) {
    /** Copies the list. */
    public Input {
      addresses = List.copyOf(addresses);
    }
  }

  /**
   * A demand.
   *
   * @param kind how it was demanded
   * @param name name of the table or conclusion; empty otherwise
   * @param cell cell that demanded it
   * @param line line in the notebook file
   * @param address the step
   * @param over steps drawn over a picture, demanded with it
   */
  public record Demand(
      Kind kind, String name, String cell, int line, String address, List<String> over) {
    /** Copies the list. */
    public Demand {
      over = List.copyOf(over);
    }

    /** Ways to demand. */
    public enum Kind {
      /** By {@code get()}: once for each cell and step. */
      GOT,
      /** By {@code show}. */
      SHOW,
      /** By {@code table}. */
      TABLE,
      /** By {@code conclude}. */
      CONCLUDE,
      /** By {@code findings}. */
      FINDINGS,
      /** By {@code ledger}. */
      LEDGER,
      /** By {@code seen}. */
      SEEN
    }
  }

  /**
   * The value of a step.
   *
   * @param type simple name of its type
   * @param sha256 digest of its canonical encoding, under which the store has it
   * @param size bytes of the encoding
   * @param value the value, or its plain form; empty where {@code size} is above {@link #LARGE}
   * @param statistics its numbers in short
   */
  public record ValueFact(
      String type, String sha256, long size, Optional<Object> value, Statistics statistics) {
    /** Bytes of encoding above which a value stays in the store, unless it is a table, findings, ledger, visibility or conclusion. */
    public static final long LARGE = 256 * 1024;
  }

  /**
   * The finite numbers of a value in the order of its encoding: samples only, where it has
   * samples; else every number with a fraction.
   *
   * @param count how many there are
   * @param min least; 0 where there are none
   * @param max greatest; 0 where there are none
   * @param rms root of the mean square, summed in order; 0 where there are none
   * @param samples 16 of them, number {@code floor(k (count - 1) / 15)}, k from 0 to 15; all where
   *     there are 16 or fewer
   */
  public record Statistics(long count, double min, double max, double rms, Doubles samples) {}

  /**
   * What a conclusion rests on.
   *
   * @param sources budget of its margin: signed contributions by source, metres; empty without a
   *     margin
   * @param upstream addresses of all steps it depends on, in the order of their statement
   */
  public record Basis(SortedMap<String, Double> sources, List<String> upstream) {
    /** Copies map and list. */
    public Basis {
      sources = Collections.unmodifiableSortedMap(new TreeMap<>(sources));
      upstream = List.copyOf(upstream);
    }
  }

  /**
   * Something that failed.
   *
   * @param kind what sort
   * @param cell cell that is charged: the one that stated the step; empty where none is
   * @param line line in the notebook file; 0 where none applies
   * @param snippet text of the statement; empty where none applies
   * @param address the step that failed; empty where a statement failed
   * @param file scan file that is charged; empty where none is
   * @param message what went wrong with the value, what was expected, what to do; without the place
   *     of the cell
   */
  public record Failure(
      Kind kind,
      String cell,
      int line,
      String snippet,
      String address,
      String file,
      String message) {

    /** Sorts of failure. */
    public enum Kind {
      /** A statement or an operation threw, mostly because something does not serve. */
      EXCEPTION,
      /** A scan file is missing, changed, unknown or cannot be read as it stands. */
      SCAN,
      /** No plugin, two of one id, or one that breaks the contract. */
      PLUGIN,
      /** The time is over. */
      TIME,
      /** The memory is full. */
      MEMORY,
      /** Calls without end. */
      STACK,
      /** The run was cancelled. */
      CANCELLED,
      /** The worker process ended by itself. */
      DIED,
      /** A fault of ours. */
      FAULT
    }

    /** Returns place and message: {@code cell velocity, line 41: step velocity/fit: ...}. */
    public String text() {
      String place =
          cell.isEmpty() ? "" : "cell " + cell + (line > 0 ? ", line " + line : "") + ": ";
      String step = cell.isEmpty() || address.isEmpty() ? "" : "step " + address + ": ";
      return place + step + message;
    }
  }
}
