package org.slabnote.api;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.UnaryOperator;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.TimeSpan;

/**
 * One pass with one antenna orientation: a radargram with its geometry.
 *
 * <p>Samples lie trace by trace: sample {@code j} of trace {@code i} at {@code i * axis.count() +
 * j}. All samples are finite.
 *
 * @param pass name of the pass in the survey table
 * @param channel label of the channel in the survey table
 * @param antenna the pair of antennas
 * @param axis sample times, as in the file
 * @param track place of each trace
 * @param samples {@code track.size() * axis.count()} samples, in the file's unit
 * @param surface the time on {@code axis} at which the wave leaves the surface ("time zero"), with
 *     its uncertainty; empty while nobody has determined it
 * @param balance the balance of the antennas, where the survey states one
 * @param history what was done to the samples, oldest first
 * @since 0.1
 */
public record Scan(
    String pass,
    String channel,
    Antenna antenna,
    TimeAxis axis,
    Track track,
    Samples samples,
    Optional<Measured<TimeSpan>> surface,
    Optional<Balance> balance,
    List<Treatment> history) {

  /**
   * Checks sizes and samples.
   *
   * @throws IllegalArgumentException if the number of samples is not traces times samples per
   *     trace, or a sample is not finite; the message names trace and sample
   */
  public Scan {
    history = List.copyOf(history);
    if ((long) track.size() * axis.count() != samples.size()) {
      throw new IllegalArgumentException("scan " + pass + ": " + samples.size()
          + " samples; expected " + track.size() + " traces of " + axis.count());
    }
    for (int i = 0; i < samples.size(); i++) {
      if (!Float.isFinite(samples.get(i))) {
        throw new IllegalArgumentException(
            "scan " + pass + ", trace " + (i / axis.count() + 1) + ", sample "
                + (i % axis.count() + 1) + ": " + samples.get(i)
                + "; expected finite numbers. Export the file again, or mend the trace before it is read");
      }
    }
  }

  /** Returns the number of traces. */
  public int traces() {
    return track.size();
  }

  /** Returns the sample interval. */
  public TimeSpan interval() {
    return axis.interval();
  }

  /** Returns how the dipoles lie against the travel. */
  public Orientation orientation() {
    return antenna.orientation();
  }

  /** Returns a copy of trace {@code i}, {@code axis.count()} samples. */
  public float[] trace(int i) {
    return samples.copy(i * axis.count(), (i + 1) * axis.count());
  }

  /** Returns sample {@code j} of trace {@code i}. */
  public float sample(int i, int j) {
    return samples.get(i * axis.count() + j);
  }

  /** Returns copies of all traces. */
  public float[][] toTraces() {
    float[][] all = new float[traces()][];
    for (int i = 0; i < all.length; i++) {
      all[i] = trace(i);
    }
    return all;
  }

  /**
   * Returns this scan with each trace replaced.
   *
   * @param work runs the traces, in parallel where it may; reports progress
   * @param change gets a copy of a trace that it may overwrite, returns as many samples
   * @throws IllegalArgumentException if {@code change} returns another number of samples
   */
  public Scan eachTrace(Work work, UnaryOperator<float[]> change) {
    float[][] out = new float[traces()][];
    work.forEach(out.length, i -> {
      float[] changed = change.apply(trace(i));
      if (changed.length != axis.count()) {
        throw new IllegalArgumentException("trace " + (i + 1) + ": " + changed.length
            + " samples returned; expected " + axis.count());
      }
      out[i] = changed;
    });
    return withSamples(Samples.ofTraces(out));
  }

  /** Returns this scan with other samples, as many. */
  public Scan withSamples(Samples changed) {
    return new Scan(pass, channel, antenna, axis, track, changed, surface, balance, history);
  }

  /** Returns this scan with its surface time stated. */
  public Scan withSurface(Measured<TimeSpan> time) {
    return new Scan(
        pass, channel, antenna, axis, track, samples, Optional.of(time), balance, history);
  }

  /** Returns this scan with one more treatment in its history. */
  public Scan treated(Treatment treatment) {
    List<Treatment> longer = new ArrayList<>(history);
    longer.add(treatment);
    return new Scan(pass, channel, antenna, axis, track, samples, surface, balance, longer);
  }

  /**
   * Returns the surface time.
   *
   * @throws IllegalStateException if it was not determined; the message says how to
   */
  public Measured<TimeSpan> requireSurface() {
    return surface.orElseThrow(
        () -> new IllegalStateException(
            "scan " + pass + ", channel " + channel
                + ": its surface time (time zero) is not known. Determine it from the direct wave of the across antenna, or state time_zero_ns in survey.csv"));
  }
}
