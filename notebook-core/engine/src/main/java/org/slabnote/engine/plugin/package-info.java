/**
 * Plugins of third parties: what a jar declares, what it says of itself, what cells may see of it,
 * and how a job pins it.
 *
 * <p>Start at {@link org.slabnote.engine.plugin.PluginPins} to add or remove one, at {@link
 * org.slabnote.engine.plugin.PluginShelf} to use those of a job. No code of theirs runs in this
 * process: a jar is read as a file, and loaded in a process of its own.
 */
@NullMarked
package org.slabnote.engine.plugin;

import org.jspecify.annotations.NullMarked;
