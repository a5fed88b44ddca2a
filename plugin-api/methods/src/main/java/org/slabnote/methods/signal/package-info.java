/**
 * Fourier transforms, the analytic signal, filters and wavelets for single traces.
 *
 * <p>Start at {@link org.slabnote.methods.signal.AnalyticSignal} for envelopes, at {@link
 * org.slabnote.methods.signal.Butterworth} for filters, at {@link org.slabnote.methods.signal.Fft}
 * for anything else. Times in ns, frequencies in GHz (1 GHz = 1 / ns), amplitudes in the unit of the
 * input. Arrays given are never changed unless a method says so.
 */
@NullMarked
package org.slabnote.methods.signal;

import org.jspecify.annotations.NullMarked;
