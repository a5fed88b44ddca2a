package org.slabnote.formats.segy;

/**
 * A named part of the extended textual headers or of the data trailer: from {@code ((name))} at the
 * start of a 3200-byte record up to the next.
 *
 * @param name what stands between the double parentheses, blanks at both ends cut; empty for text that
 *     stands before any name
 * @param encoding how its characters were read; each stanza may have its own
 * @param text the characters after the name; meaningless where the stanza holds binary data
 * @param byteOffset where its first record starts in the file, counted from 0
 * @param records number of 3200-byte records
 * @since 0.1
 */
public record SegyStanza(
    String name, SegyText.Encoding encoding, String text, long byteOffset, int records) {}
