package org.slabnote.forward;

import java.util.List;
import java.util.Optional;
import org.slabnote.api.Op;
import org.slabnote.api.Operation;
import org.slabnote.api.Orientation;
import org.slabnote.api.Param;
import org.slabnote.api.Purpose;
import org.slabnote.api.Samples;
import org.slabnote.api.Scan;
import org.slabnote.api.SurveyRow;
import org.slabnote.api.TimeAxis;
import org.slabnote.api.Track;
import org.slabnote.api.Work;
import org.slabnote.api.quantity.TimeSpan;

/**
 * The scan that a slab model would give along one row of a survey table, by rays.
 *
 * <p>For each trace the response is summed up frequency by frequency (time factor exp(+j w t)):
 *
 * <ul>
 *   <li>each straight run of each cylinder: exact two-dimensional field of the dipole pair scattered
 *       by the cylinder (see {@link org.slabnote.methods.wave}), for the field along and square to
 *       its axis, combined by the dipole's angle to it; spreading of a point source by {@code
 *       sqrt(0.1 m / path)}; loss and dispersion of the concrete along the path; shadow of the
 *       cylinders above (incident plus forward-scattered field on both legs);
 *   <li>one bounce between each metal cylinder and the surface;
 *   <li>the base, with its first multiple;
 *   <li>the direct wave: through air for the across pair, along the ground and 7.5 dB weaker for the
 *       along pair;
 *   <li>the aggregate: weak point scatterers at places fixed in the slab;
 *   <li>noise.
 * </ul>
 *
 * <p>Left out: coupling between cylinders other than shadow, the lateral wave, antenna height and
 * ringing, refraction at the surface, diffraction at a cylinder's ends. Dipoles other than across
 * and along are refused.
 *
 * <p>Source: as each method in {@code org.slabnote.methods} tells; levels of the direct wave: computed
 * once with a full-wave solver, no published source. Check: RayScanReferenceTest.
 *
 * @param model the slab
 * @param row geometry, orientation and sample interval
 * @param traces number of traces, evenly from start to end
 * @param samples samples per trace
 * @param seed seed of noise, drift and aggregate
 * @since 0.1
 */
@Op(id = "forward.ray-scan", revision = 1, purpose = Purpose.MODEL)
public record RayScan(
    @Param(meaning = "the slab, what is in it, and the instrument")
    SlabModel model,

    @Param(meaning = "geometry, orientation and sample interval of the pass")
    SurveyRow row,

    @Param(meaning = "number of traces", from = "1", to = "100000")
    int traces,

    @Param(meaning = "samples per trace", from = "1", to = "20000")
    int samples,

    @Param(meaning = "seed of noise, drift and aggregate") long seed)
    implements Operation<Scan> {

  @Override
  public Scan apply(Work work) {
    Orientation orientation = row.antenna().orientation();
    if (orientation != Orientation.ACROSS && orientation != Orientation.ALONG) {
      throw new IllegalArgumentException("forward.ray-scan: pass " + row.pass() + " is "
          + orientation + "; expected ACROSS or ALONG");
    }
    TimeAxis axis = new TimeAxis(new TimeSpan(0), row.interval(), samples);
    Track track = row.track(traces);
    RayTracer tracer = new RayTracer(model, row.antenna(), axis, track, seed);
    Noise noise = new Noise(model, row, seed);
    float[][] out = new float[traces][];
    work.forEach(traces, i -> {
      double[] trace = tracer.trace(i, noise.zero());
      out[i] = noise.added(trace, i, tracer.reference());
    });
    return new Scan(
        row.pass(),
        row.channel(),
        row.antenna(),
        axis,
        track,
        Samples.ofTraces(out),
        Optional.empty(),
        Optional.empty(),
        List.of());
  }
}
