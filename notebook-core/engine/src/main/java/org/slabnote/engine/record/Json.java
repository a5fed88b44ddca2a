package org.slabnote.engine.record;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.erdtman.jcs.JsonCanonicalizer;
import org.slabnote.api.Cut;
import org.slabnote.api.Doubles;
import org.slabnote.api.Picks;
import org.slabnote.api.Samples;
import org.slabnote.api.codec.Canonical;
import org.slabnote.api.quantity.Measured;
import org.slabnote.api.quantity.Quantity;

/** Values as JSON: results rounded to six significant digits, parameters as they were stated. */
final class Json {
  static final ObjectMapper MAPPER = new ObjectMapper();
  private static final MathContext SIX = new MathContext(6, RoundingMode.HALF_EVEN);
  private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

  private Json() {}

  static ObjectNode object() {
    return NODES.objectNode();
  }

  /** The line in its canonical form (RFC 8785), without a line end. */
  static String canonical(JsonNode node) {
    try {
      return new JsonCanonicalizer(MAPPER.writeValueAsString(node)).getEncodedString();
    } catch (IOException e) {
      throw new IllegalStateException("writing to memory", e);
    }
  }

  /** A number of six significant digits: no result of a scan is known better. */
  static double rounded(double value) {
    return Double.isNaN(value) || Double.isInfinite(value) || value == 0
        ? value + 0.0
        : new BigDecimal(value).round(SIX).doubleValue();
  }

  /** A result: its number rounded, null where it is not finite. */
  static JsonNode number(double value) {
    return Double.isNaN(value) || Double.isInfinite(value)
        ? NODES.nullNode()
        : NODES.numberNode(rounded(value));
  }

  static ObjectNode quantity(Quantity<?> quantity) {
    ObjectNode node = object();
    node.put("unit", quantity.unit());
    node.set("value", number(quantity.value()));
    return node;
  }

  /** An estimate: value, standard uncertainty, and the contributions by source. */
  static ObjectNode measured(Measured<?> measured) {
    ObjectNode node = quantity(measured.value());
    node.set("u", number(measured.u().value()));
    if (!measured.budget().isEmpty()) {
      node.set("budget", budget(measured.budget()));
    }
    return node;
  }

  static ObjectNode budget(SortedMap<String, Double> budget) {
    ObjectNode node = object();
    budget.forEach((source, contribution) -> node.set(source, number(contribution)));
    return node;
  }

  /** A parameter or any other stated value, exactly. */
  static JsonNode stated(Object value) {
    if (value instanceof Quantity<?> q) {
      ObjectNode node = object();
      node.put("unit", q.unit());
      node.put("value", q.value());
      return node;
    }
    if (value instanceof String s) {
      return NODES.textNode(s);
    }
    if (value instanceof Boolean b) {
      return NODES.booleanNode(b);
    }
    if (value instanceof Integer || value instanceof Long) {
      return NODES.numberNode(((Number) value).longValue());
    }
    if (value instanceof Double d) {
      return d.isNaN() || d.isInfinite()
          ? NODES.textNode(d.isNaN() ? "NaN" : "infinity")
          : NODES.numberNode(d);
    }
    if (value instanceof Enum<?> e) {
      return NODES.textNode(e.name());
    }
    return composite(value);
  }

  private static JsonNode composite(Object value) {
    if (value instanceof Optional<?> o) {
      return o.isPresent() ? stated(o.get()) : NODES.nullNode();
    }
    if (value instanceof List<?> list) {
      var array = NODES.arrayNode();
      list.forEach(one -> array.add(stated(one)));
      return array;
    }
    if (value instanceof Map<?, ?> map) {
      ObjectNode node = object();
      new TreeMap<>(map).forEach((k, v) -> node.set(String.valueOf(k), stated(v)));
      return node;
    }
    if (value instanceof Cut cut) {
      return object().put("cut", cut.name());
    }
    if (value instanceof Picks picks) {
      return object().put("picks", picks.name()).put("sha256", Canonical.digest(picks));
    }
    if (value instanceof Samples || value instanceof Doubles) {
      return object().put("sha256", Canonical.digest(value));
    }
    if (value.getClass().isRecord()) {
      ObjectNode node = object();
      Components.of(value).forEach((name, part) -> node.set(name, stated(part)));
      return node;
    }
    throw new IllegalArgumentException(
        "a " + value.getClass().getName() + " cannot stand in a record; expected a quantity, text, "
            + "number, enum, list, map or record of these");
  }
}
