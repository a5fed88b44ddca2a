/**
 * Waves in concrete: propagation, reflection, and scattering by cylinders.
 *
 * <p>Start at {@link org.slabnote.methods.wave.Propagation} for velocity and loss, at {@link
 * org.slabnote.methods.wave.PairTheory} for what two antenna orientations see of a bar or tube, at
 * {@link org.slabnote.methods.wave.CylinderEcho} for an echo's spectrum.
 *
 * <p>Lengths in m, frequencies in GHz, times in ns, conductivity in S/m; permittivities are relative
 * and real. Time factor exp(+j w t), outgoing wave H_n^(2), in the whole package.
 */
@NullMarked
package org.slabnote.methods.wave;

import org.jspecify.annotations.NullMarked;
