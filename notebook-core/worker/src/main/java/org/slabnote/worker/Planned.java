package org.slabnote.worker;

import java.util.List;

/**
 * A step that is to be computed, as far as is known before it is.
 *
 * @param address its address
 * @param index its number in the order of statement: an input has a lower one than what uses it
 * @param operation id of the operation or of the scan's format
 * @param implementation digest of what computes it
 * @param bytes bytes of all scan files that it depends on: how large it is, roughly
 * @param inputs addresses of its inputs
 * @since 0.1
 */
public record Planned(
    String address,
    int index,
    String operation,
    String implementation,
    long bytes,
    List<String> inputs) {
  /** Copies the list. */
  public Planned {
    inputs = List.copyOf(inputs);
  }
}
