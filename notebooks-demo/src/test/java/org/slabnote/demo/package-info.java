/**
 * Acceptance: whole jobs through the command line, against what is known of their slabs.
 *
 * <p>Start at {@link org.slabnote.demo.Slabnote}, the command line as a process, and at {@link
 * org.slabnote.demo.Score}, findings against truth. Lengths in metres.
 */
@NullMarked
package org.slabnote.demo;

import org.jspecify.annotations.NullMarked;
