package org.slabnote.desktop;

import java.util.List;
import javafx.geometry.VPos;
import javafx.scene.Node;
import javafx.scene.control.Label;
import javafx.scene.control.Separator;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;
import javafx.scene.text.Text;
import javafx.scene.text.TextFlow;
import org.commonmark.ext.gfm.tables.TableBlock;
import org.commonmark.ext.gfm.tables.TableCell;
import org.commonmark.ext.gfm.tables.TableRow;
import org.commonmark.ext.gfm.tables.TablesExtension;
import org.commonmark.node.BlockQuote;
import org.commonmark.node.BulletList;
import org.commonmark.node.Code;
import org.commonmark.node.Emphasis;
import org.commonmark.node.FencedCodeBlock;
import org.commonmark.node.HardLineBreak;
import org.commonmark.node.Heading;
import org.commonmark.node.HtmlBlock;
import org.commonmark.node.HtmlInline;
import org.commonmark.node.Image;
import org.commonmark.node.IndentedCodeBlock;
import org.commonmark.node.Link;
import org.commonmark.node.ListItem;
import org.commonmark.node.OrderedList;
import org.commonmark.node.Paragraph;
import org.commonmark.node.SoftLineBreak;
import org.commonmark.node.StrongEmphasis;
import org.commonmark.node.ThematicBreak;
import org.commonmark.parser.Parser;

/**
 * Renders prose as JavaFX nodes. Links are told with their address and not followed, pictures and HTML
 * are told as text: a stranger's notebook loads nothing.
 */
final class Prose {
  private static final Parser PARSER =
      Parser.builder().extensions(List.of(TablesExtension.create())).build();

  private Prose() {}

  /** Renders CommonMark. */
  static VBox render(String markdown) {
    VBox page = new VBox();
    page.getStyleClass().add("prose");
    blocks(PARSER.parse(markdown), page);
    return page;
  }

  private static void blocks(org.commonmark.node.Node parent, VBox into) {
    for (var node = parent.getFirstChild(); node != null; node = node.getNext()) {
      into.getChildren().add(block(node));
    }
  }

  private static Node block(org.commonmark.node.Node node) {
    if (node instanceof Heading heading) {
      TextFlow flow = flow(heading, "heading-" + Math.min(4, heading.getLevel()));
      flow.getStyleClass().add("heading");
      return flow;
    }
    if (node instanceof Paragraph) {
      return flow(node, "paragraph");
    }
    if (node instanceof BulletList list) {
      return list(list, 0);
    }
    if (node instanceof OrderedList list) {
      Integer first = list.getMarkerStartNumber();
      return list(list, first == null ? 1 : first);
    }
    if (node instanceof BlockQuote) {
      VBox quote = new VBox();
      quote.getStyleClass().add("quotation");
      blocks(node, quote);
      return quote;
    }
    if (node instanceof ThematicBreak) {
      return new Separator();
    }
    if (node instanceof TableBlock) {
      return table(node);
    }
    return code(node);
  }

  private static Node code(org.commonmark.node.Node node) {
    String text = node instanceof FencedCodeBlock fence
        ? fence.getLiteral()
        : node instanceof IndentedCodeBlock indented
            ? indented.getLiteral()
            : node instanceof HtmlBlock html ? html.getLiteral() : "";
    Label label = new Label(text.stripTrailing());
    label.getStyleClass().add("quoted-code");
    label.setWrapText(true);
    label.setMaxWidth(Double.MAX_VALUE);
    return label;
  }

  private static Node list(org.commonmark.node.Node list, int first) {
    VBox items = new VBox();
    items.getStyleClass().add("list");
    int number = first;
    for (var item = list.getFirstChild(); item != null; item = item.getNext()) {
      if (item instanceof ListItem) {
        Label marker = new Label(first == 0 ? "\u2013" : number + ".");
        marker.getStyleClass().add("marker");
        marker.setMinWidth(first == 0 ? 16 : 26);
        VBox body = new VBox();
        blocks(item, body);
        HBox.setHgrow(body, Priority.ALWAYS);
        items.getChildren().add(new HBox(marker, body));
        number++;
      }
    }
    return items;
  }

  private static Node table(org.commonmark.node.Node table) {
    GridPane grid = new GridPane();
    grid.getStyleClass().add("prose-table");
    int row = 0;
    for (var part = table.getFirstChild(); part != null; part = part.getNext()) {
      for (var line = part.getFirstChild(); line != null; line = line.getNext()) {
        if (line instanceof TableRow) {
          int column = 0;
          for (var cell = line.getFirstChild(); cell != null; cell = cell.getNext()) {
            boolean header = cell instanceof TableCell c && c.isHeader();
            TextFlow flow = flow(cell, header ? "table-header" : "table-cell");
            GridPane.setValignment(flow, VPos.TOP);
            grid.add(flow, column++, row);
          }
          row++;
        }
      }
    }
    return grid;
  }

  private static TextFlow flow(org.commonmark.node.Node node, String style) {
    TextFlow flow = new TextFlow();
    flow.getStyleClass().add(style);
    inline(node, flow, style, "");
    return flow;
  }

  private static void inline(
      org.commonmark.node.Node parent, TextFlow flow, String block, String style) {
    for (var node = parent.getFirstChild(); node != null; node = node.getNext()) {
      if (node instanceof org.commonmark.node.Text text) {
        add(flow, text.getLiteral(), block, style);
      } else if (node instanceof Code code) {
        add(flow, code.getLiteral(), block, "inline-code");
      } else if (node instanceof Emphasis) {
        inline(node, flow, block, "emphasis");
      } else if (node instanceof StrongEmphasis) {
        inline(node, flow, block, "strong");
      } else if (node instanceof SoftLineBreak) {
        add(flow, " ", block, style);
      } else if (node instanceof HardLineBreak) {
        add(flow, "\n", block, style);
      } else if (node instanceof HtmlInline html) {
        add(flow, html.getLiteral(), block, "inline-code");
      } else if (node instanceof Link link) {
        inline(node, flow, block, style);
        add(flow, " (" + link.getDestination() + ")", block, "address");
      } else if (node instanceof Image image) {
        inline(node, flow, block, style);
        add(flow, " (picture " + image.getDestination() + ")", block, "address");
      } else {
        inline(node, flow, block, style);
      }
    }
  }

  private static void add(TextFlow flow, String words, String block, String style) {
    Text text = new Text(words);
    text.getStyleClass().add(block + "-text");
    if (!style.isEmpty()) {
      text.getStyleClass().add(style);
    }
    flow.getChildren().add(text);
  }
}
