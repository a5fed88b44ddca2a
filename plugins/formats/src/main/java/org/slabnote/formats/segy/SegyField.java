package org.slabnote.formats.segy;

/**
 * The header fields that the standard names, with their byte positions.
 *
 * <p>Source: SEG-Y rev 2.1 (2023), tables of the binary file header, the trace header and its first
 * extension; positions agree with the field list of segyio, an open library.
 *
 * @since 0.1
 */
public enum SegyField {
  // binary file header
  JOB_ID(Place.FILE, 3201, Type.INT32),
  LINE_NUMBER(Place.FILE, 3205, Type.INT32),
  REEL_NUMBER(Place.FILE, 3209, Type.INT32),
  TRACES_PER_ENSEMBLE(Place.FILE, 3213, Type.INT16),
  AUXILIARY_TRACES_PER_ENSEMBLE(Place.FILE, 3215, Type.INT16),
  /** Sample interval, microseconds by the standard; radar practice puts picoseconds here. */
  INTERVAL(Place.FILE, 3217, Type.UINT16),
  FIELD_INTERVAL(Place.FILE, 3219, Type.UINT16),
  /** Samples in a trace. */
  SAMPLES(Place.FILE, 3221, Type.UINT16),
  FIELD_SAMPLES(Place.FILE, 3223, Type.UINT16),
  /** Data sample format code. */
  FORMAT(Place.FILE, 3225, Type.INT16),
  ENSEMBLE_FOLD(Place.FILE, 3227, Type.INT16),
  SORTING(Place.FILE, 3229, Type.INT16),
  VERTICAL_SUM(Place.FILE, 3231, Type.INT16),
  SWEEP_START_FREQUENCY(Place.FILE, 3233, Type.INT16),
  SWEEP_END_FREQUENCY(Place.FILE, 3235, Type.INT16),
  SWEEP_LENGTH(Place.FILE, 3237, Type.INT16),
  SWEEP_TYPE(Place.FILE, 3239, Type.INT16),
  SWEEP_CHANNEL(Place.FILE, 3241, Type.INT16),
  SWEEP_START_TAPER(Place.FILE, 3243, Type.INT16),
  SWEEP_END_TAPER(Place.FILE, 3245, Type.INT16),
  TAPER_TYPE(Place.FILE, 3247, Type.INT16),
  CORRELATED(Place.FILE, 3249, Type.INT16),
  GAIN_RECOVERED(Place.FILE, 3251, Type.INT16),
  AMPLITUDE_RECOVERY(Place.FILE, 3253, Type.INT16),
  /** 1 metres, 2 feet. */
  MEASUREMENT_SYSTEM(Place.FILE, 3255, Type.INT16),
  IMPULSE_POLARITY(Place.FILE, 3257, Type.INT16),
  VIBRATORY_POLARITY(Place.FILE, 3259, Type.INT16),
  WIDE_TRACES_PER_ENSEMBLE(Place.FILE, 3261, Type.INT32),
  WIDE_AUXILIARY_TRACES_PER_ENSEMBLE(Place.FILE, 3265, Type.INT32),
  /** Samples in a trace, revision 2; overrides the two-byte field unless 0. */
  WIDE_SAMPLES(Place.FILE, 3269, Type.UINT32),
  /** Sample interval in microseconds, revision 2; overrides the two-byte field unless 0. */
  WIDE_INTERVAL(Place.FILE, 3273, Type.FLOAT64),
  WIDE_FIELD_INTERVAL(Place.FILE, 3281, Type.FLOAT64),
  WIDE_FIELD_SAMPLES(Place.FILE, 3289, Type.UINT32),
  WIDE_ENSEMBLE_FOLD(Place.FILE, 3293, Type.INT32),
  /** 16909060 in the file's byte order, revision 2. */
  BYTE_ORDER(Place.FILE, 3297, Type.INT32),
  REVISION_MAJOR(Place.FILE, 3501, Type.UINT8),
  REVISION_MINOR(Place.FILE, 3502, Type.UINT8),
  /** 1: each trace has as many samples as this header says. */
  FIXED_LENGTH(Place.FILE, 3503, Type.INT16),
  /** 3200-byte records of extended text; -1: up to the stanza SEG:EndText. */
  EXTENDED_TEXT_HEADERS(Place.FILE, 3505, Type.INT16),
  /** 240-byte extensions of each trace header, revision 2.1; four bytes wide in 2.0. */
  ADDITIONAL_TRACE_HEADERS(Place.FILE, 3507, Type.UINT16),
  SURVEY_TYPE(Place.FILE, 3509, Type.INT16),
  TIME_BASIS(Place.FILE, 3511, Type.INT16),
  /** Traces in the file, revision 2; 0: not stated. */
  TRACES_IN_FILE(Place.FILE, 3513, Type.UINT64),
  /** Byte offset of the first trace, revision 2; 0: not stated. */
  FIRST_TRACE_OFFSET(Place.FILE, 3521, Type.UINT64),
  /** 3200-byte records after the last trace, revision 2; -1: not known. */
  TRAILER_RECORDS(Place.FILE, 3529, Type.INT32),
  // trace header
  TRACE_SEQUENCE_LINE(Place.TRACE, 1, Type.INT32),
  TRACE_SEQUENCE_FILE(Place.TRACE, 5, Type.INT32),
  FIELD_RECORD(Place.TRACE, 9, Type.INT32),
  TRACE_NUMBER(Place.TRACE, 13, Type.INT32),
  ENERGY_SOURCE_POINT(Place.TRACE, 17, Type.INT32),
  ENSEMBLE(Place.TRACE, 21, Type.INT32),
  TRACE_IN_ENSEMBLE(Place.TRACE, 25, Type.INT32),
  TRACE_IDENTIFICATION(Place.TRACE, 29, Type.INT16),
  VERTICALLY_SUMMED(Place.TRACE, 31, Type.INT16),
  HORIZONTALLY_STACKED(Place.TRACE, 33, Type.INT16),
  DATA_USE(Place.TRACE, 35, Type.INT16),
  OFFSET(Place.TRACE, 37, Type.INT32),
  GROUP_ELEVATION(Place.TRACE, 41, Type.INT32),
  SOURCE_ELEVATION(Place.TRACE, 45, Type.INT32),
  SOURCE_DEPTH(Place.TRACE, 49, Type.INT32),
  GROUP_DATUM_ELEVATION(Place.TRACE, 53, Type.INT32),
  SOURCE_DATUM_ELEVATION(Place.TRACE, 57, Type.INT32),
  SOURCE_WATER_DEPTH(Place.TRACE, 61, Type.INT32),
  GROUP_WATER_DEPTH(Place.TRACE, 65, Type.INT32),
  ELEVATION_SCALAR(Place.TRACE, 69, Type.INT16),
  /** Positive multiplies, negative divides, 0 means 1. */
  COORDINATE_SCALAR(Place.TRACE, 71, Type.INT16),
  SOURCE_X(Place.TRACE, 73, Type.INT32),
  SOURCE_Y(Place.TRACE, 77, Type.INT32),
  GROUP_X(Place.TRACE, 81, Type.INT32),
  GROUP_Y(Place.TRACE, 85, Type.INT32),
  /** 1: length (metres or feet, as the measurement system says). */
  COORDINATE_UNITS(Place.TRACE, 89, Type.INT16),
  WEATHERING_VELOCITY(Place.TRACE, 91, Type.INT16),
  SUBWEATHERING_VELOCITY(Place.TRACE, 93, Type.INT16),
  SOURCE_UPHOLE_TIME(Place.TRACE, 95, Type.INT16),
  GROUP_UPHOLE_TIME(Place.TRACE, 97, Type.INT16),
  SOURCE_STATIC(Place.TRACE, 99, Type.INT16),
  GROUP_STATIC(Place.TRACE, 101, Type.INT16),
  TOTAL_STATIC(Place.TRACE, 103, Type.INT16),
  LAG_A(Place.TRACE, 105, Type.INT16),
  LAG_B(Place.TRACE, 107, Type.INT16),
  /** Delay recording time, milliseconds by the standard. */
  DELAY(Place.TRACE, 109, Type.INT16),
  MUTE_START(Place.TRACE, 111, Type.INT16),
  MUTE_END(Place.TRACE, 113, Type.INT16),
  /** Samples in this trace. */
  TRACE_SAMPLES(Place.TRACE, 115, Type.UINT16),
  /** Sample interval of this trace, unit as in the binary header. */
  TRACE_INTERVAL(Place.TRACE, 117, Type.UINT16),
  GAIN_TYPE(Place.TRACE, 119, Type.INT16),
  GAIN_CONSTANT(Place.TRACE, 121, Type.INT16),
  INITIAL_GAIN(Place.TRACE, 123, Type.INT16),
  TRACE_CORRELATED(Place.TRACE, 125, Type.INT16),
  TRACE_SWEEP_START_FREQUENCY(Place.TRACE, 127, Type.INT16),
  TRACE_SWEEP_END_FREQUENCY(Place.TRACE, 129, Type.INT16),
  TRACE_SWEEP_LENGTH(Place.TRACE, 131, Type.INT16),
  TRACE_SWEEP_TYPE(Place.TRACE, 133, Type.INT16),
  TRACE_SWEEP_START_TAPER(Place.TRACE, 135, Type.INT16),
  TRACE_SWEEP_END_TAPER(Place.TRACE, 137, Type.INT16),
  TRACE_TAPER_TYPE(Place.TRACE, 139, Type.INT16),
  ALIAS_FREQUENCY(Place.TRACE, 141, Type.INT16),
  ALIAS_SLOPE(Place.TRACE, 143, Type.INT16),
  NOTCH_FREQUENCY(Place.TRACE, 145, Type.INT16),
  NOTCH_SLOPE(Place.TRACE, 147, Type.INT16),
  LOW_CUT_FREQUENCY(Place.TRACE, 149, Type.INT16),
  HIGH_CUT_FREQUENCY(Place.TRACE, 151, Type.INT16),
  LOW_CUT_SLOPE(Place.TRACE, 153, Type.INT16),
  HIGH_CUT_SLOPE(Place.TRACE, 155, Type.INT16),
  YEAR(Place.TRACE, 157, Type.INT16),
  DAY_OF_YEAR(Place.TRACE, 159, Type.INT16),
  HOUR(Place.TRACE, 161, Type.INT16),
  MINUTE(Place.TRACE, 163, Type.INT16),
  SECOND(Place.TRACE, 165, Type.INT16),
  TIME_BASE(Place.TRACE, 167, Type.INT16),
  WEIGHTING(Place.TRACE, 169, Type.INT16),
  GROUP_ROLL(Place.TRACE, 171, Type.INT16),
  GROUP_FIRST(Place.TRACE, 173, Type.INT16),
  GROUP_LAST(Place.TRACE, 175, Type.INT16),
  GAP_SIZE(Place.TRACE, 177, Type.INT16),
  OVERTRAVEL(Place.TRACE, 179, Type.INT16),
  /** Midpoint. */
  CDP_X(Place.TRACE, 181, Type.INT32),
  /** Midpoint. */
  CDP_Y(Place.TRACE, 185, Type.INT32),
  INLINE(Place.TRACE, 189, Type.INT32),
  CROSSLINE(Place.TRACE, 193, Type.INT32),
  SHOTPOINT(Place.TRACE, 197, Type.INT32),
  SHOTPOINT_SCALAR(Place.TRACE, 201, Type.INT16),
  VALUE_UNIT(Place.TRACE, 203, Type.INT16),
  TRANSDUCTION_MANTISSA(Place.TRACE, 205, Type.INT32),
  TRANSDUCTION_EXPONENT(Place.TRACE, 209, Type.INT16),
  TRANSDUCTION_UNIT(Place.TRACE, 211, Type.INT16),
  DEVICE(Place.TRACE, 213, Type.INT16),
  TIME_SCALAR(Place.TRACE, 215, Type.INT16),
  SOURCE_TYPE(Place.TRACE, 217, Type.INT16),
  SOURCE_DIRECTION_VERTICAL(Place.TRACE, 219, Type.INT16),
  SOURCE_DIRECTION_CROSSLINE(Place.TRACE, 221, Type.INT16),
  SOURCE_DIRECTION_INLINE(Place.TRACE, 223, Type.INT16),
  SOURCE_MEASUREMENT_MANTISSA(Place.TRACE, 225, Type.INT32),
  SOURCE_MEASUREMENT_EXPONENT(Place.TRACE, 229, Type.INT16),
  SOURCE_MEASUREMENT_UNIT(Place.TRACE, 231, Type.INT16),
  // first trace header extension of revision 2
  /** Source, revision 2; overrides the four-byte field unless 0. */
  X_SOURCE_X(Place.EXTENSION, 97, Type.FLOAT64),
  X_SOURCE_Y(Place.EXTENSION, 105, Type.FLOAT64),
  X_GROUP_X(Place.EXTENSION, 113, Type.FLOAT64),
  X_GROUP_Y(Place.EXTENSION, 121, Type.FLOAT64),
  /** Samples in this trace, revision 2; overrides the two-byte field unless 0. */
  X_SAMPLES(Place.EXTENSION, 137, Type.UINT32),
  /** Sample interval in microseconds, revision 2; overrides the two-byte field unless 0. */
  X_INTERVAL(Place.EXTENSION, 145, Type.FLOAT64),
  /** Extensions of this trace's header, this one included; 0: as many as the file header says. */
  X_BLOCKS(Place.EXTENSION, 157, Type.UINT16),
  /** Midpoint, revision 2. */
  X_CDP_X(Place.EXTENSION, 161, Type.FLOAT64),
  /** Midpoint, revision 2. */
  X_CDP_Y(Place.EXTENSION, 169, Type.FLOAT64);

  /** Which header a field stands in. */
  public enum Place {
    /** Binary file header, bytes 3201 to 3600 of the file. */
    FILE,
    /** Trace header, 240 bytes. */
    TRACE,
    /** First extension of the trace header, 240 bytes. */
    EXTENSION
  }

  /** How a field is stored. */
  public enum Type {
    UINT8(1),
    INT16(2),
    UINT16(2),
    INT32(4),
    UINT32(4),
    UINT64(8),
    FLOAT64(8);

    private final int bytes;

    Type(int bytes) {
      this.bytes = bytes;
    }

    /** Bytes of a value. */
    public int bytes() {
      return bytes;
    }
  }

  private final Place place;
  private final int position;
  private final Type type;

  SegyField(Place place, int position, Type type) {
    this.place = place;
    this.position = position;
    this.type = type;
  }

  /** The header it stands in. */
  public Place place() {
    return place;
  }

  /** Its first byte, counted from 1 as in the standard. */
  public int position() {
    return position;
  }

  /** How it is stored. */
  public Type type() {
    return type;
  }

  /** The field's bytes as a message names them, as in {@code binary header bytes 3221-3222}. */
  public String where() {
    String header = switch (place) {
      case FILE -> "binary header";
      case TRACE -> "trace header";
      case EXTENSION -> "trace header extension";
    };
    int last = position + type.bytes() - 1;
    return header + (last == position ? " byte " + position : " bytes " + position + "-" + last);
  }
}
