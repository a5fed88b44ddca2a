/**
 * Makes a job folder from a survey table, its scans and the proposed cuts.
 *
 * <p>Start at {@link org.slabnote.app.create.NewJob}: it checks everything first, and makes the folder
 * whole or not at all. {@link org.slabnote.app.create.StarterNotebook} writes the notebook: a standard
 * reading of such a survey, to be edited. Lengths in metres, times in ns, frequencies in MHz.
 */
@NullMarked
package org.slabnote.app.create;

import org.jspecify.annotations.NullMarked;
