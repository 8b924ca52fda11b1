/** How the budget is set, for page and panel alike. Colours come as custom properties from the surface it stands on. */
export const budgetStyle = `
.budget { color: var(--ink); font-variant-numeric: tabular-nums lining-nums; line-height: 1.5; overflow-wrap: break-word; }
.budget h1, .budget h2, .budget h3, .budget p, .budget ul, .budget figure { margin: 0; padding: 0; }
.budget ul { list-style: none; }
.budget h1 { font-size: 1.6em; font-weight: 600; line-height: 1.25; letter-spacing: -0.01em; }
.budget h2 { margin-top: 2.4em; padding-bottom: 0.35em; border-bottom: 1px solid var(--rule); font-size: 1em; font-weight: 600; }
.budget .circuit-name { margin-top: 2em; padding: 0; border: 0; font-size: 1.25em; }
.budget .circuit-name + h2, .budget .circuit-name + .states + h2 { margin-top: 1.2em; }
.budget h3 { font-size: 1em; font-weight: 600; }
.budget .about { margin-left: 0.5em; color: var(--dim); font-weight: 400; }
.budget .fine, .budget .caution { color: var(--dim); font-size: 0.92em; }
.budget header .fine, .budget header .caution { margin-top: 0.4em; }
.budget .caution { max-width: 44em; }
.budget footer { margin-top: 2.4em; padding-top: 0.8em; border-top: 1px solid var(--rule); }
.budget footer .caution { margin-top: 0.4em; }
.budget code { font-family: var(--mono); font-size: 0.95em; }
.budget .part { position: relative; padding: 0.9em 0; break-inside: avoid; }
.budget .part:last-child { padding-bottom: 0; }
.budget .winding + .fine, .budget h2 + .fine { margin-top: 0.7em; }
.budget .part + .part { border-top: 1px solid var(--rule); }
.budget .headline { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: baseline; gap: 0 1.5em; margin-top: 0.5em; }
.budget .headline strong { font-size: 1.3em; font-weight: 600; }
.budget .headline span { color: var(--dim); }
.budget .winding + .winding { margin-top: 1.6em; }
.budget svg { display: block; overflow: visible; }
.budget .bar, .budget .gauge { margin: 0.4em 0; }
.bar-track { fill: var(--track); }
.bar-worst { fill: var(--soft); }
.bar-over { fill: var(--error); }
.bar-lasting, .gauge-nominal { fill: var(--strong); }
.bar-rated, .bar-shown, .gauge-shown { fill: var(--ink); }
.gauge-line { fill: var(--rule); }
.gauge-band { fill: var(--band); }
.gauge-edge { fill: var(--edge); }
.gauge-whole { fill: var(--soft); }
.gauge text { fill: var(--dim); font-size: 0.85em; }
.budget table { width: 100%; margin-top: 0.7em; border-collapse: collapse; }
.budget th, .budget td { padding: 0.28em 0 0.28em 0.9em; text-align: right; vertical-align: baseline; font-weight: 400; }
.budget th:first-child { padding-left: 0; text-align: left; }
.budget thead th { color: var(--dim); font-size: 0.92em; vertical-align: bottom; }
.budget tbody tr { border-top: 1px solid var(--rule); }
.budget td.reason { text-align: left; }
.budget .states-table th:not(:first-child), .budget .states-table td { width: 3.6em; }
.budget .conductors { table-layout: fixed; }
.budget .conductors th:nth-child(2) { width: 3em; }
.budget .conductors th:nth-child(3) { width: 36%; }
.budget .conductors th:nth-child(n + 4) { width: 4.4em; }
.budget tr.shown th { font-weight: 600; }
.budget .tag { padding: 0 0.4em; border: 1px solid currentColor; border-radius: 2px; font-size: 0.8em; font-weight: 400; white-space: nowrap; }
.budget .ends, .budget .when { color: var(--dim); }
.budget .ends { display: block; font-size: 0.92em; }
.budget .when { display: block; font-size: 0.85em; }
.budget .swatch { display: inline-block; margin-right: 0.45em; vertical-align: -1px; }
.swatch-edge { fill: none; stroke: var(--dim); }
.budget .element { margin-top: 0.7em; }
.budget .reading { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: baseline; gap: 0 1.5em; }
.budget .reading .what { color: var(--dim); }
.budget .reading strong { font-weight: 600; }
.budget .verdict-unjudged, .budget .verdict-unknown { font-weight: 400; }
.budget .verdict-below, .budget .verdict-above { color: var(--error); }
.budget .finding { padding: 0.6em 0 0.6em 0.9em; border-left: 3px solid var(--note); break-inside: avoid; }
.budget .finding + .finding { margin-top: 0.5em; }
.budget .findings, .budget .assumptions { margin-top: 0.8em; }
.budget .finding.error { border-left-color: var(--error); }
.budget .finding.warning { border-left: 3px double var(--warning); }
.budget .severity { font-weight: 600; }
.budget .finding.error .severity { color: var(--error); }
.budget .finding.warning .severity { color: var(--warning); }
.budget .finding .code { color: var(--dim); font-size: 0.92em; white-space: nowrap; }
.budget .assumptions li { padding: 0.15em 0; }
.budget .unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
@media (max-width: 480px) {
  .budget table, .budget .conductors { display: block; }
  .budget thead, .budget tbody { display: block; }
  .budget tr { display: grid; grid-template-columns: repeat(5, 1fr); }
  .budget .conductors tr { grid-template-columns: repeat(4, 1fr); }
  .budget th:first-child { grid-column: 1 / -1; padding-bottom: 0; }
  .budget .states-table th:nth-child(2), .budget .states-table td:nth-child(2), .budget .conductors th:nth-child(2), .budget .conductors td:nth-child(2) { padding-left: 0; text-align: left; }
  .budget table.states-table th, .budget table.states-table td, .budget table.conductors th, .budget table.conductors td { width: auto; }
  .budget td.reason { grid-column: 1 / -1; padding-left: 0; }
}
@media (forced-colors: active) {
  .bar-track, .gauge-band { fill: Canvas; stroke: CanvasText; }
  .bar-worst, .gauge-whole { fill: GrayText; }
  .bar-over { fill: Mark; }
  .bar-over { fill: var(--error); }
.bar-lasting, .gauge-nominal { fill: Highlight; }
  .bar-rated, .bar-shown, .gauge-shown, .gauge-edge, .gauge-line, .gauge text { fill: CanvasText; }
}
`;
