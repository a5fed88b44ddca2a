package org.slabnote.filters;

import java.util.EnumSet;
import java.util.Set;
import org.slabnote.api.Amplitudes;
import org.slabnote.api.Filter;
import org.slabnote.api.Op;
import org.slabnote.api.Purpose;
import org.slabnote.api.Scan;
import org.slabnote.api.Work;
import org.slabnote.methods.signal.AnalyticSignal;

/**
 * Replaces each trace by its envelope, the modulus of its analytic signal.
 *
 * <p>{@code y = |x + j H(x)|}, H the Hilbert transform over all samples of the trace, without
 * padding: the trace is taken as periodic. An offset or slow drift of the trace leaks into the
 * envelope: take it out first ({@link Dewow}). A trace of one sample becomes its magnitude.
 *
 * <p>Amplitudes are altered: no longer linear, and the sign is gone; polarity and pair phase cannot be
 * told from it. Source: Gabor 1946, J. IEE 93; definition as scipy.signal.hilbert. Check:
 * FilterReferenceTest (SciPy).
 *
 * @since 0.1
 */
@Op(id = "filters.envelope", revision = 1, purpose = Purpose.FILTER)
public record Envelope() implements Filter<Scan> {

  @Override
  public Amplitudes amplitudes() {
    return Amplitudes.ALTERED;
  }

  @Override
  public Set<Claim> claims() {
    return EnumSet.of(Claim.ZERO_DELAY, Claim.SCALE_FREE, Claim.TRACE_BY_TRACE);
  }

  @Override
  public Scan apply(Scan input, Work work) {
    return input.eachTrace(work, Envelope::envelope);
  }

  static float[] envelope(float[] trace) {
    AnalyticSignal signal = AnalyticSignal.of(trace);
    float[] out = new float[trace.length];
    for (int i = 0; i < out.length; i++) {
      out[i] = (float) signal.envelope(i);
    }
    return out;
  }
}
