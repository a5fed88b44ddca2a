/** A small plugin for tests of the engine: a text format and a few operations. */
package org.slabnote.probe;
