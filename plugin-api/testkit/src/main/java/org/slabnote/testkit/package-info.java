/**
 * The contract that every operation keeps, as JUnit 5 tests, and invented scans to try it on.
 *
 * <p>Start at {@link org.slabnote.testkit.OperationContract}: one line in a test class holds an
 * operation or filter to each rule of {@link org.slabnote.testkit.Must}. {@link
 * org.slabnote.testkit.InventedScan} builds scans, {@link org.slabnote.testkit.InventedSurvey} whole
 * surveys, {@link org.slabnote.testkit.TestSession} runs what a cell would say, {@link
 * org.slabnote.testkit.TestWork} counts progress and cancels.
 *
 * <p>All scans made here are invented. Reads no files.
 */
@NullMarked
package org.slabnote.testkit;

import org.jspecify.annotations.NullMarked;
