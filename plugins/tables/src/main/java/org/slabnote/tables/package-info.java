/**
 * Report tables: the target schedule, velocities, clearances, events, visibility.
 *
 * <p>Start at {@link org.slabnote.tables.TargetSchedule}. Units stand in the column names; lengths in
 * metres, times in nanoseconds, levels in decibels. Tables are put together with Tablesaw and handed
 * out as the API's own immutable table. Nothing here measures or decides.
 */
@NullMarked
package org.slabnote.tables;

import org.jspecify.annotations.NullMarked;
