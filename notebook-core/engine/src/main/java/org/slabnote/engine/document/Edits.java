package org.slabnote.engine.document;

/**
 * Changes of the notebook's text: text in, text out, line ends kept as the text has them.
 *
 * <p>Each method works on the text of a {@link Document} and returns the whole new text; what was not
 * asked for stays as it is, byte for byte.
 *
 * @since 0.1
 */
public final class Edits {
  private Edits() {}

  /**
   * Puts a row at the end of a csv block.
   *
   * @throws IllegalArgumentException if there is no csv block of that name
   */
  public static String appendRow(Document document, String block, String row) {
    Block.Data data = data(document, block);
    String text = document.text();
    String end = Lines.end(text);
    int at = data.content().end();
    boolean open = at > 0 && !endsLine(text, at);
    return text.substring(0, at) + (open ? end : "") + row + end + text.substring(at);
  }

  /**
   * Takes a line out of a csv block.
   *
   * @param row index from 0 of the line within the block, the header being line 0
   * @throws IllegalArgumentException if there is no such block or line
   */
  public static String removeRow(Document document, String block, int row) {
    Block.Data data = data(document, block);
    if (row < 0 || row >= data.content().lines()) {
      throw new IllegalArgumentException("csv block " + block + " has "
          + data.content().lines() + " lines; there is no line " + row + ", counted from 0");
    }
    String text = document.text();
    int[] starts = Lines.starts(text);
    int line = data.content().firstLine() - 1 + row;
    int after = line + 1 < starts.length ? starts[line + 1] : text.length();
    return text.substring(0, starts[line]) + text.substring(after);
  }

  /**
   * Replaces the lines between the fences of a cell or csv block.
   *
   * @throws IllegalArgumentException if there is no block of that name
   */
  public static String replace(Document document, String name, String source) {
    Block.Named named = document
        .named(name)
        .orElseThrow(() -> new IllegalArgumentException("the notebook has no block named " + name));
    String text = document.text();
    String end = Lines.end(text);
    String lines = Lines.unix(source);
    if (!lines.isEmpty() && !lines.endsWith("\n")) {
      lines += "\n";
    }
    return text.substring(0, named.content().start())
        + lines.replace("\n", end)
        + text.substring(named.content().end());
  }

  /**
   * Puts a new csv block before a cell, so that it reads above the cell that reads it.
   *
   * @param name name of the new block
   * @param header its first line
   * @param beforeCell the cell
   * @throws IllegalArgumentException if the name is taken or there is no such cell
   */
  public static String addData(Document document, String name, String header, String beforeCell) {
    if (document.named(name).isPresent()) {
      throw new IllegalArgumentException("the notebook has a block named " + name + " already");
    }
    Block.Named cell = document
        .named(beforeCell)
        .orElseThrow(
            () -> new IllegalArgumentException("the notebook has no block named " + beforeCell));
    String text = document.text();
    String end = Lines.end(text);
    int at = cell.span().start();
    String block = "```csv " + name + end + header + end + "```" + end + end;
    return text.substring(0, at) + block + text.substring(at);
  }

  private static Block.Data data(Document document, String name) {
    if (document.named(name).orElse(null) instanceof Block.Data data) {
      return data;
    }
    throw new IllegalArgumentException("the notebook has no csv block named " + name);
  }

  private static boolean endsLine(String text, int at) {
    char c = text.charAt(at - 1);
    return c == '\n' || c == '\r';
  }
}
