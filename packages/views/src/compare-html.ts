/** A comparison as a whole page: self-contained, without script, fit to be printed or kept. */

import type { Comparison } from '@ohmstead/record';
import { compareStyle } from './compare-style.js';
import { type CompareView, compareView, figureBasis } from './compare-view.js';
import { Html, html, sentence } from './html.js';
import { pageStyle } from './page-style.js';
import { cautionWords } from './words.js';

export function compareHtml(comparison: Comparison): string {
  const view = compareView(comparison);
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${view.after}: what changed</title>
<style>${new Html(pageStyle + compareStyle)}</style>
</head>
<body>
<main class="changes">
<header><h1>${view.after}</h1><p class="fine">Compared with ${view.before}.</p>${view.verdict && html`<p>${view.verdict}</p>`}<p class="fine">${cautionWords(comparison.profile.after ?? '')}</p></header>
${comparisonSections(view)}
</main>
</body>
</html>
`.markup;
}

/** What a panel shows as well. `named` sets a name of the record. */
export function comparisonSections(view: CompareView, named?: (name: string) => Html): Html {
  const groups = view.groups.map(
    ({ heading, lines }) =>
      html`<section><h2>${heading}</h2><ul>${lines.map(({ change, words }) => html`<li><span class="change">${change}</span> ${sentence(words, named)}</li>`)}</ul></section>`,
  );
  const rows = view.figures.map(
    ({ what, before, after, when }) =>
      html`<tr><th scope="row">${sentence(what, named)}${when.length > 0 && html` <span class="when">${sentence(when.join(', '), named)}</span>`}</th><td>${before}</td><td>${after}</td></tr>`,
  );
  const figures =
    rows.length > 0 &&
    html`<section><h2>Figures</h2><table><caption class="unseen">Figures before and after</caption><thead><tr><th scope="col">Figure</th><th scope="col">Before</th><th scope="col">After</th></tr></thead><tbody>${rows}</tbody></table><p class="fine">${figureBasis}</p></section>`;
  const items = view.findings.map(
    ({ state, severity, code, message }) =>
      html`<li><span class="change">${state} ${severity}</span> ${sentence(message, named)} <code>${code}</code></li>`,
  );
  const findings =
    (items.length > 0 || view.kept !== '') &&
    html`<section><h2>Findings</h2>${items.length > 0 && html`<ul>${items}</ul>`}${view.kept && html`<p class="fine">${view.kept}</p>`}</section>`;
  return html`${groups}${figures}${findings}`;
}
