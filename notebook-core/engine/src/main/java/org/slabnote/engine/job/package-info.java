/**
 * The job folder: what its files are called, and what its tables and job sheet say.
 *
 * <p>Start at {@link Job#open}. {@link SurveyTable}, {@link CutsTable} and {@link JobSheetFile} parse
 * text with declared columns and types and never guess; each problem names file, line, column, value,
 * what was expected and what to do. Lengths in metres, times in ns, angles in degrees, as the columns
 * say. Scan files are listed and digested here, and read in the worker.
 */
@NullMarked
package org.slabnote.engine.job;

import org.jspecify.annotations.NullMarked;
