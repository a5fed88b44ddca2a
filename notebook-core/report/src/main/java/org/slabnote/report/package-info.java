/**
 * Figures, the plan of the slab, and the report, made from what a complete run found.
 *
 * <p>Start at {@link org.slabnote.report.HtmlReport}. Drawings are SVG, radargrams in them PNG; the
 * desktop draws from the same {@link org.slabnote.report.Radargram} and {@link
 * org.slabnote.report.Plan}. Nothing here computes a finding, and nothing here permits a cut.
 */
@NullMarked
package org.slabnote.report;

import org.jspecify.annotations.NullMarked;
