package org.slabnote.testkit;

/**
 * The rules of the plugin contract that a test can hold; each is one test with {@link #words()} as
 * its name. The same table, with the reasons, stands in {@code docs/plugin-contract.md}.
 *
 * @since 0.1
 */
public enum Must {
  /** A record with {@code @Op}, and {@code @Param} on each parameter. */
  DESCRIBED("describes itself and each parameter"),
  /** Bytes, types and numbers of every parameter come back from their encoding. */
  PARAMETERS_SURVIVE("parameters survive encoding"),
  /** Below and above the stated range. */
  RANGES_REFUSED("refuses each parameter outside its range, naming it, its value and the range"),
  /** Pure in time. */
  SAME_TWICE("same input, same bytes, twice"),
  /** Pure beside itself. */
  SAME_IN_PARALLEL("same bytes when several run at once"),
  /** Pure whatever the threads, and the order of items. */
  SAME_WITH_THREADS("same bytes with 1 and with N threads"),
  /** Pure whatever the machine is set to. */
  SAME_ANYWHERE("same bytes in another locale and time zone"),
  /** Inputs are values. */
  INPUT_UNTOUCHED("leaves its input alone"),
  /** The record and the store need it. */
  RESULT_SURVIVES("result survives encoding"),
  /** A person waits for it. */
  PROGRESS("reports progress, 0 to 1, never falling"),
  /** A cancel comes out as it went in, and soon. */
  CANCEL("honours a cancel"),
  /** A result, or a refusal in plain words. */
  ONE_TRACE("one trace: a result, or a refusal that says where and why"),
  /** A result, or a refusal in plain words. */
  ONE_SAMPLE("one sample a trace: a result, or a refusal that says where and why"),
  /** Amplitude methods rely on it. */
  AMPLITUDES_STATED("states what it does to amplitudes"),
  /** Unchanged, linear, or the same for each trace, as stated. */
  AMPLITUDES_KEPT("does to amplitudes what it states"),
  /** The engine writes the history. */
  HISTORY_LEFT("leaves names, antenna and history of a scan alone"),
  /** Claimed: a symmetric pulse stays where it is. */
  ZERO_DELAY("claim: a symmetric pulse stays where it is"),
  /** Claimed: sums pass. */
  LINEAR("claim: the filtered sum is the sum of the filtered"),
  /** Claimed: scale passes. */
  SCALE_FREE("claim: twice the input gives twice the output"),
  /** Claimed: sign passes. */
  KEEPS_POLARITY("claim: the sign of a pulse survives"),
  /** Claimed: no trace depends on another. */
  TRACE_BY_TRACE("claim: a trace's result depends on that trace only");

  private final String words;

  Must(String words) {
    this.words = words;
  }

  /** Returns the rule in words: the name of its test. */
  public String words() {
    return words;
  }
}
