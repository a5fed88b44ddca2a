package org.slabnote.engine.job;

import java.nio.file.Path;

/**
 * A scan file of the job.
 *
 * @param name as the survey table names it, relative to the folder {@code scans}
 * @param path where it lies on this machine
 * @param sha256 digest of its bytes, 64 lower-case hexadecimal digits
 * @since 0.1
 */
public record ScanFile(String name, Path path, String sha256) {}
