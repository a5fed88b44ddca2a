package org.slabnote.desktop;

import java.util.List;
import java.util.Locale;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import org.slabnote.api.Conclusion;
import org.slabnote.api.Event;
import org.slabnote.api.EventState;
import org.slabnote.api.Events;
import org.slabnote.api.Point;
import org.slabnote.api.Target;
import org.slabnote.api.TargetClass;
import org.slabnote.api.Visibility;
import org.slabnote.api.quantity.Length;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Units;
import org.slabnote.report.Cautions;
import org.slabnote.report.Marks;

/** Conclusions, findings, what could not be seen and open events, in words. */
final class FindingsView extends ScrollPane {
  private final VBox list = new VBox();

  FindingsView() {
    setId("findings");
    list.getStyleClass().add("findings");
    setContent(list);
    setFitToWidth(true);
    getStyleClass().add("page-scroll");
    setAccessibleText("conclusions and findings");
    line("Nothing has run yet.", "quiet");
  }

  void show(Results found) {
    list.getChildren().clear();
    line(Cautions.FIRST, "caution");
    conclusions(found.conclusions());
    heading("Findings");
    List<Target> targets = found.targets().map(t -> t.list()).orElse(List.of());
    if (targets.isEmpty()) {
      line("No finding is recorded. That is no statement that nothing is there.", "body");
    }
    targets.forEach(this::finding);
    unseen(found);
    found.ledger().ifPresent(this::ledger);
  }

  private void conclusions(List<Conclusion> conclusions) {
    heading("Proposed cuts");
    if (conclusions.isEmpty()) {
      line("The notebook concludes nothing yet.", "body");
    }
    for (Conclusion one : conclusions) {
      String margin = one.margin()
          .map(m -> "Margin " + millimetres(m) + " to the required clearance"
              + one.nearest().map(n -> ", nearest " + n).orElse("") + ".")
          .orElse("");
      card(
          Marks.colour(one.verdict()),
          one.subject() + ": " + one.verdict().words(),
          one.statement(),
          margin);
    }
  }

  private void finding(Target t) {
    String kind = t.likeliest()
        .map(c -> words(c) + " (" + Units.fixed(100 * t.classes().getOrDefault(c, 0.0), 0) + " %)")
        .orElse("not classified");
    String to = t.reference() == Target.Reference.TOP ? "top" : "centre";
    String where = "depth to its " + to + " " + millimetres(t.depth()) + ", "
        + t.end()
            .map(end -> "from " + place(t.start()) + " to " + place(end))
            .orElse("at " + place(t.start()))
        + ", across \u00b1 " + Units.fixed(t.across().u95().inMillimetres(), 0) + " mm, "
        + t.status().name().toLowerCase(Locale.ROOT).replace('_', ' ');
    String ratio = t.pairRatio()
        .map(p -> "pair ratio " + Units.fixed(p.ratio().value().value(), 1) + " \u00b1 "
            + Units.fixed(p.ratio().u95().value(), 1) + " dB. ")
        .orElse("");
    String else_ = t.alternatives().isBlank() ? "" : "Could also be: " + t.alternatives();
    card(Marks.colour(t), t.name() + " " + Marks.letter(t) + ": " + kind, where, ratio + else_);
  }

  private static String words(TargetClass kind) {
    return kind.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  private static String place(Point p) {
    return "(" + Units.fixed(p.x().value(), 3) + ", " + Units.fixed(p.y().value(), 3) + ") m";
  }

  static String millimetres(Measured<Length> length) {
    return Units.fixed(length.value().inMillimetres(), 0) + " \u00b1 "
        + Units.fixed(Math.ceil(length.u95().inMillimetres() - 1e-9), 0) + " mm";
  }

  private void unseen(Results found) {
    heading("What could not be seen");
    if (found.visibility().isEmpty()) {
      line(
          "The notebook does not say what could have been seen. Until it does, no finding here "
              + "speaks of absence.",
          "body");
      return;
    }
    Visibility v = found.visibility().get();
    for (Visibility.Unseen u : v.unseen()) {
      line(
          place(u.from()) + " to " + place(u.to()) + ", below "
              + Units.fixed(u.below().inMillimetres(), 0) + " mm: " + u.why(),
          "body");
    }
    for (Visibility.Sight s : v.sights()) {
      line(
          s.pass() + " " + s.channel() + ": down to " + Units.fixed(s.reach().inMillimetres(), 0)
              + " mm, smallest metal bar there "
              + Units.fixed(s.smallest().inMillimetres(), 0) + " mm, to "
              + Units.fixed(s.halfWidth().inMillimetres(), 0) + " mm each side",
          "small");
    }
  }

  private void ledger(Events ledger) {
    heading("Event ledger");
    long explained = count(ledger, EventState.EXPLAINED);
    long rejected = count(ledger, EventState.REJECTED);
    long open = count(ledger, EventState.OPEN);
    line(
        ledger.list().size() + " events above clutter: " + explained + " explained by a finding, "
            + rejected + " rejected with a reason, " + open + " open.",
        "body");
    for (Event e : ledger.list()) {
      if (e.state() == EventState.OPEN) {
        line(
            "? " + e.name() + " at " + place(e.place()) + ", depth " + millimetres(e.depth()) + ", "
                + Units.fixed(e.signalToNoise().value(), 0) + " dB above clutter",
            "small");
      }
    }
  }

  private static long count(Events ledger, EventState state) {
    return ledger.list().stream().filter(e -> e.state() == state).count();
  }

  private void heading(String words) {
    line(words, "findings-heading");
  }

  private Label line(String words, String style) {
    Label label = new Label(words);
    label.setWrapText(true);
    label.setMinHeight(Region.USE_PREF_SIZE);
    label.setMaxWidth(Double.MAX_VALUE);
    label.getStyleClass().add(style);
    list.getChildren().add(label);
    return label;
  }

  private void card(String colour, String title, String... lines) {
    VBox body = new VBox(2);
    Label head = new Label(title);
    head.getStyleClass().add("card-title");
    head.setStyle("-fx-text-fill: " + colour + ";");
    head.setWrapText(true);
    head.setMinHeight(Region.USE_PREF_SIZE);
    body.getChildren().add(head);
    for (String words : lines) {
      if (!words.isBlank()) {
        Label label = new Label(words);
        label.setWrapText(true);
        label.setMinHeight(Region.USE_PREF_SIZE);
        label.getStyleClass().add("body");
        body.getChildren().add(label);
      }
    }
    HBox card = new HBox(body);
    card.getStyleClass().add("card");
    card.setStyle("-fx-border-color: -color-border-default -color-border-default "
        + "-color-border-default " + colour + ";");
    list.getChildren().add(card);
  }
}
