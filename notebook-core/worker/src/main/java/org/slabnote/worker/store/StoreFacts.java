package org.slabnote.worker.store;

import java.time.Instant;
import java.util.Optional;

/**
 * What a store holds.
 *
 * @param keys how many keys it knows, of steps and of what is told of them
 * @param values how many values it has; several keys may share one
 * @param bytes what all of it takes on the disk, each file in whole blocks of 4096 bytes
 * @param oldest when what was used longest ago was used; empty where it holds nothing
 * @param newest when it was last used; empty where it holds nothing
 * @since 0.1
 */
public record StoreFacts(
    int keys, int values, long bytes, Optional<Instant> oldest, Optional<Instant> newest) {}
