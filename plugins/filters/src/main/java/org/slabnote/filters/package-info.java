/**
 * Cleaning of scans before anything is picked: time zero, drift, background, band, gain, envelope,
 * and the checks of how the scans were taken.
 *
 * <p>Start at {@link org.slabnote.filters.SurfaceTime} for the time zero of a pass and at {@link
 * org.slabnote.filters.Dewow} for the first filter of a chain; {@link
 * org.slabnote.filters.AcquisitionChecks} tells whether the scans serve at all.
 *
 * <p>Times in ns, two-way, on the scan's own axis; lengths in m; frequencies in MHz; amplitudes in the
 * unit of the file. Each filter says what it does to amplitudes. Reads no files, knows no other plugin.
 */
@NullMarked
package org.slabnote.filters;

import org.jspecify.annotations.NullMarked;
