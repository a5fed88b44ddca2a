package org.slabnote.engine.trace;

/**
 * What a plugin is known by.
 *
 * @param version its version
 * @param sha256 digest of its jar or class folder
 * @since 0.1
 */
public record PluginMark(String version, String sha256) {}
