/**
 * Files of the user's cache folder that are worth having and never needed: what is read from there is
 * whole, or counts as missing. Remembered steps and compiled cells have a store of their own, in the
 * worker.
 */
@NullMarked
package org.slabnote.engine.cache;

import org.jspecify.annotations.NullMarked;
