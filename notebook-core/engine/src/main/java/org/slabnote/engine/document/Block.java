package org.slabnote.engine.document;

/**
 * A part of the notebook: prose, a cell, or a csv block.
 *
 * @since 0.1
 */
public sealed interface Block {
  /** The whole block, fences and final line end included. */
  Span span();

  /** Prose between the named blocks: CommonMark, with any fenced block that is neither java nor csv. */
  record Prose(Span span) implements Block {}

  /** A block with a name: a cell or data. */
  sealed interface Named extends Block {
    /** The name in the info string. */
    String name();

    /** The lines between the fences, final line end included. */
    Span content();

    /** The lines between the fences with line ends made {@code \n}. */
    String source();
  }

  /** Java statements. */
  record Cell(String name, String source, Span span, Span content) implements Named {}

  /** Comma separated data that a cell reads by name. */
  record Data(String name, String source, Span span, Span content) implements Named {}
}
