package org.slabnote.formats.segy;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.List;
import java.util.OptionalLong;
import org.slabnote.api.ScanFileException;

/**
 * A SEG-Y file, checked from end to end when it is opened; samples are decoded trace by trace when asked
 * for.
 *
 * <p>Opening reads the headers and finds every trace. A file that is cut short, holds bytes that belong
 * to no trace, or states counts that contradict one another or the file's length is refused with a {@link
 * ScanFileException}. Nothing is allocated by a number from a header before that number has been held
 * against the file's length. Sample values are not judged: NaN and infinity come out as they are.
 *
 * <p>How many samples a trace has (rev 1, 4.2 and rev 2): with the fixed-length flag set, what the binary
 * header says; else what the trace's own header says, or the binary header where that is 0. Where that
 * does not lead to the file's end but the other one does, unmistakably, it is taken and said in {@link
 * #remarks()}.
 *
 * @since 0.1
 */
public final class SegyFile {
  private final SegyPreamble preamble;
  private final SegyTraces traces;

  private SegyFile(SegyPreamble preamble, SegyTraces traces) {
    this.preamble = preamble;
    this.traces = traces;
  }

  /**
   * Opens a file held in memory.
   *
   * @param name what messages call the file
   * @param bytes the whole file; must not change afterwards
   * @throws ScanFileException if it is no SEG-Y file that can be read whole
   */
  public static SegyFile of(String name, byte[] bytes) {
    return of(name, ByteBuffer.wrap(bytes));
  }

  /**
   * Opens a file held in, or mapped into, a buffer: from its start to its limit. The buffer's position is
   * neither used nor moved.
   *
   * @throws ScanFileException if it is no SEG-Y file that can be read whole
   */
  public static SegyFile of(String name, ByteBuffer bytes) {
    SegyPreamble preamble = SegyPreamble.of(name, new SegyBytes(bytes, ByteOrder.BIG_ENDIAN));
    return new SegyFile(preamble, SegyTraces.of(preamble));
  }

  /**
   * Whether a file that starts so may be SEG-Y, whatever its name: headers long enough, a sample format
   * that is read, in either byte order, and text in either encoding.
   *
   * @param head the first bytes of the file, 3600 or more where it has them
   */
  public static boolean looksLikeSegy(byte[] head) {
    return SegyPreamble.looksLikeSegy(new SegyBytes(ByteBuffer.wrap(head), ByteOrder.BIG_ENDIAN));
  }

  /** What messages call the file. */
  public String name() {
    return preamble.name();
  }

  /** The byte order of headers and samples. */
  public ByteOrder byteOrder() {
    return preamble.bytes().order();
  }

  /** The revision as stated, or 0.0 where the bytes hold something else. */
  public SegyRevision revision() {
    return preamble.revision();
  }

  /** How samples are stored. */
  public SegySample sample() {
    return preamble.sample();
  }

  /** The textual header. */
  public SegyText text() {
    return preamble.text();
  }

  /** The extended textual headers, each as 40 lines of 80. */
  public List<SegyText> extendedTexts() {
    return preamble.extendedTexts();
  }

  /** The stanzas of the extended textual headers; a record without a name belongs to the one before. */
  public List<SegyStanza> stanzas() {
    return preamble.stanzas();
  }

  /** The stanzas of the data trailer. */
  public List<SegyStanza> trailer() {
    return traces.trailer();
  }

  /** The binary file header. */
  public SegyHeader header() {
    return preamble.header();
  }

  /** Number of traces; 0 for a file of headers only. */
  public int traceCount() {
    return traces.count();
  }

  /**
   * A trace.
   *
   * @param index counted from 0
   * @throws IndexOutOfBoundsException if there is no such trace
   */
  public SegyTrace trace(int index) {
    return traces.trace(index);
  }

  /** The number of samples that every trace has; empty where they differ or there is no trace. */
  public OptionalLong commonSampleCount() {
    return traces.commonSampleCount();
  }

  /** What the file left open or contradicted, and how it was read, one sentence each. */
  public List<String> remarks() {
    return preamble.remarks();
  }
}
