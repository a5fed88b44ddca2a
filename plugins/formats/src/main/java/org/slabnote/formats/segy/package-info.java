/**
 * SEG-Y as it stands in the file: headers, texts and the exact sample values, revisions 0 to 2.1.
 *
 * <p>Start at {@link org.slabnote.formats.segy.SegyFile} to read and at {@link
 * org.slabnote.formats.segy.SegyWriter} to write. Byte positions are counted from 1 as the standard
 * counts them; offsets in the file from 0; traces from 1 in messages and from 0 in code. Values are in
 * the file's own units: nothing here knows of a survey.
 *
 * <p>Standard: SEG Technical Standards Committee, SEG-Y rev 0 (1975), rev 1 (2002), rev 2.0 (2017), rev
 * 2.1 (2023). What a file leaves open or contradicts is either refused or noted in {@link
 * org.slabnote.formats.segy.SegyFile#remarks()}, never settled in silence.
 */
@NullMarked
package org.slabnote.formats.segy;

import org.jspecify.annotations.NullMarked;
