/** What the plots show, as tables. */

import { formatVolts } from '@ohmstead/circuit';
import { length, size } from '../figures.js';
import { html } from '../html.js';
import { stateWords } from '../words.js';
import { farthestWords } from './plot-svg.js';
import type { Reach } from './reach.js';
import type { Way } from './way.js';

/** A row for each point of the way, and for each state the volts there and what was lost on the way to it. */
export function wayTable({ device, steps, series }: Way, profile: string): string {
  const head = series.map(({ state }) => html`<th scope="col">Volts, ${state}</th><th scope="col">Lost</th>`);
  const rows = steps.map(({ words, by, metres }, index) => {
    const through = metres === undefined ? by : `${by}, ${length(metres, profile)}`;
    const figures = series.map(({ volts }) => {
      const lost = index === 0 ? null : Math.abs((volts[index - 1] ?? 0) - (volts[index] ?? 0));
      return html`<td>${size(volts[index] ?? null, 2)}</td><td>${size(lost, 2)}</td>`;
    });
    return html`<tr><th scope="row">${words}</th><td>${through}</td>${figures}</tr>`;
  });
  return html`<table class="words-table"><caption>Volts along the way to ${device}</caption><thead><tr><th scope="col">At</th><th scope="col">Through</th>${head}</tr></thead><tbody>${rows}</tbody></table>`
    .markup;
}

/** A row for each size: how far it could go, and the volts at a few lengths. */
export function reachTable(reach: Reach, profile: string): string {
  const { run, device, closed, loads, least, lines } = reach;
  const every = 6;
  const metres = (lines.find(({ points }) => points.length > every) ?? lines[0])?.points ?? [];
  const lengths = metres.filter((_, index) => index % every === 0).map((point) => point.metres);
  const rows = lines.map((line) => {
    const figures = lengths.map((at) => {
      const found = line.points.find((point) => point.metres === at);
      return html`<td>${found === undefined ? 'off' : formatVolts(found.volts)}</td>`;
    });
    return html`<tr><th scope="row">${line.gauge}</th><td>${farthestWords(line, profile)}</td>${figures}</tr>`;
  });
  return html`<table class="words-table"><caption>Volts at ${device} ${stateWords({ closed, loads })}, by length of ${run}; least ${formatVolts(least)}</caption><thead><tr><th scope="col">Size</th><th scope="col">How far</th>${lengths.map((at) => html`<th scope="col">${length(at, profile)}</th>`)}</tr></thead><tbody>${rows}</tbody></table>`
    .markup;
}
