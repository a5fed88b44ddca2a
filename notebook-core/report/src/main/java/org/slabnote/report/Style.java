package org.slabnote.report;

/** The look of the report, on screen and on paper. */
final class Style {
  static final String CSS = """
      :root { --ink: #22303c; --quiet: #5c6b78; --line: #d9dee3; --paper: #ffffff; --tint: #f4f2ed; }
      * { box-sizing: border-box; }
      body { margin: 0; background: #eceae4; color: var(--ink); font: 15px/1.5 system-ui, "Segoe UI", "Helvetica Neue", Arial, sans-serif; }
      main { max-width: 860px; margin: 24px auto; padding: 36px 44px; background: var(--paper); }
      h1 { font-size: 26px; line-height: 1.2; margin: 0 0 4px; }
      h2 { font-size: 18px; margin: 34px 0 8px; padding-top: 10px; border-top: 2px solid var(--ink); }
      h3 { font-size: 15px; margin: 20px 0 4px; }
      p { margin: 6px 0 10px; }
      .quiet { color: var(--quiet); font-size: 13px; }
      .cut { border: 1px solid var(--line); border-left-width: 6px; padding: 10px 14px; margin: 10px 0; break-inside: avoid; }
      .cut b.verdict { display: inline-block; margin-left: 8px; }
      table { border-collapse: collapse; width: 100%; margin: 8px 0 14px; font-size: 12.5px; }
      caption { text-align: left; color: var(--quiet); padding: 2px 0 6px; }
      th, td { text-align: left; vertical-align: top; padding: 3px 8px 3px 0; border-bottom: 1px solid var(--line); }
      th { font-weight: 600; white-space: nowrap; }
      td.n, th.n { text-align: right; font-variant-numeric: tabular-nums; }
      dl { display: grid; grid-template-columns: minmax(120px, 30%) 1fr; gap: 2px 14px; margin: 8px 0; font-size: 14px; }
      dt { color: var(--quiet); } dd { margin: 0; overflow-wrap: anywhere; }
      figure { margin: 14px 0; break-inside: avoid; } figcaption { color: var(--quiet); font-size: 12.5px; }
      svg { width: 100%; height: auto; display: block; }
      .nowrap { white-space: nowrap; }
      .wide { overflow-x: auto; }
      .caution { background: var(--tint); border: 1px solid #cfc6b4; padding: 10px 16px; margin: 12px 0; }
      code { font-family: ui-monospace, Consolas, monospace; font-size: 12px; overflow-wrap: anywhere; }
      pre { background: var(--tint); padding: 10px 12px; overflow-x: auto; font-size: 12px; line-height: 1.4; }
      details { margin: 10px 0; } summary { cursor: pointer; font-weight: 600; }
      .end { text-align: center; color: var(--quiet); margin-top: 30px; border-top: 1px solid var(--line); padding-top: 8px; }
      @media print { body { background: #fff; } main { margin: 0; padding: 0; max-width: none; } @page { margin: 16mm 14mm; } details > *:not(summary) { display: block; } }
      """;

  private Style() {}
}
