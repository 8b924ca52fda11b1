/** The budget as a whole page: self-contained, without script, fit to be printed or kept. */

import type { Budget } from '@ohmstead/record';
import { budgetStyle } from './budget-style.js';
import {
  assumptionSection,
  branchSection,
  deviceSection,
  findingSection,
  runSection,
  type Surface,
  supplySection,
} from './budget-sections.js';
import { circuitViews, type ShownFinding } from './budget-view.js';
import { Html, html } from './html.js';
import { pageStyle } from './page-style.js';
import { basisWords, budgetCautions, countWords, listed, profileWords, titleWords } from './words.js';

const surface: Surface = {
  name: (name) => html`<span class="name">${name}</span>`,
  finding: (_finding, words) => words,
  shown: () => undefined,
  marked: () => false,
};

export function budgetHtml(budget: Budget, findings: readonly ShownFinding[] = budget.findings): string {
  const circuits = circuitViews(budget);
  const counts = countWords(findings);
  const sections = circuits.map((circuit) => {
    const names = circuit.supplies.map(({ name }) => name);
    const heading =
      names.length === 0
        ? html`<h2 class="circuit-name">${circuit.key === '' ? 'Not on any circuit' : 'No supply feeds these'}</h2>`
        : circuits.length > 1 && html`<h2 class="circuit-name">Circuit of ${listed(names)}</h2>`;
    return html`<div class="circuit">${heading}${names.length > 0 && html`<h2>Supply</h2>`}${circuit.supplies.map((supply) => supplySection(budget, supply, circuit, surface))}${deviceSection(circuit, surface)}</div>`;
  });
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${titleWords(budget)}: load budget</title>
<style>${new Html(pageStyle + budgetStyle)}</style>
</head>
<body>
<main class="budget">
<header><h1>${titleWords(budget)}</h1><p class="fine">Load budget, ${profileWords(budget.profile)}. ${counts}.</p><p class="caution">${budgetCautions(budget)}</p></header>
${circuits.length === 0 && html`<p class="empty">No supply or device is recorded yet.</p>`}
${sections}
${branchSection(budget, surface)}${runSection(budget, circuits, surface)}
${findingSection(findings, surface)}
${assumptionSection(budget)}
<footer><p class="fine">${basisWords}</p></footer>
</main>
</body>
</html>
`.markup;
}
