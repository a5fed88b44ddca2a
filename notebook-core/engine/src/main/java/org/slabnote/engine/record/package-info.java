/**
 * The record: what a clean run did and found, one fact a line, and the digests beside it.
 *
 * <p>Start at {@link RecordLines}, which words a run's facts, {@link RecordFiles}, which writes both
 * files or none, and {@link RecordReader}, which reads them back. Each line is canonical JSON
 * (RFC 8785); units are UCUM codes. Nothing here depends on the machine, the clock, the JDK or the
 * number of threads. The format is described in {@code docs/record-format.md}.
 */
@NullMarked
package org.slabnote.engine.record;

import org.jspecify.annotations.NullMarked;
