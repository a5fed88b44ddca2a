package org.slabnote.api;

/**
 * One thing that was done to the samples of a scan.
 *
 * @param operation id of the operation, as in {@code filters.dewow}
 * @param parameters its parameters as text
 * @param amplitudes what it did to amplitudes
 * @since 0.1
 */
public record Treatment(String operation, String parameters, Amplitudes amplitudes) {
  @Override
  public String toString() {
    return operation + (parameters.isEmpty() ? "" : " " + parameters);
  }
}
