/** A work order as a page to be printed and taken along. */

import type { WorkOrders } from '@ohmstead/record';
import { compareStyle } from './compare-style.js';
import { Html, html, sentence } from './html.js';
import { pageStyle } from './page-style.js';
import { noWorkWords, readingBasis, type WorkView, workView } from './work-order-view.js';
import { cautionWords } from './words.js';

export function workOrderHtml({ there, back }: WorkOrders, profile: string): string {
  const title = there.after ?? 'Untitled record';
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${title}: work order</title>
<style>${new Html(pageStyle + compareStyle)}</style>
</head>
<body>
<main class="changes">
<header><h1>${title}</h1><p class="fine">${cautionWords(profile)}</p></header>
${orderSection(workView(there, 'there'))}
${orderSection(workView(back, 'back'))}
</main>
</body>
</html>
`.markup;
}

/** Its steps and the readings to expect; `named` sets a name of the record. */
export function orderSection(view: WorkView, named?: (name: string) => Html): Html {
  const { heading, about } = view;
  return html`<section><h2>${heading}</h2><p class="fine">${about}</p>${orderBody(view, named)}</section>`;
}

export function orderBody({ sections, readings }: WorkView, named?: (name: string) => Html): Html {
  let count = 0;
  const lists = sections.map(({ heading: title, steps }) => {
    const start = count + 1;
    count += steps.length;
    const items = steps.map(({ words, place, caution }) => {
      const where = place && html`<strong>${place}:</strong> `;
      return html`<li${caution && html` class="caution"`}>${caution && 'Caution. '}${where}${sentence(words, named)}</li>`;
    });
    return html`<h3>${title}</h3><ol start="${start}">${items}</ol>`;
  });
  const rows = readings.map(
    ({ between, place, when, volts, band }) =>
      html`<tr><th scope="row">${sentence(between, named)}<span class="when">${[place, when].filter((one) => one !== '').join(', ')}</span></th><td>${volts}</td><td>${band}</td><td class="blank"></td></tr>`,
  );
  const table =
    rows.length > 0 &&
    html`<h3>Readings to expect</h3><table><caption class="unseen">Readings to expect</caption><thead><tr><th scope="col">Between</th><th scope="col">Expected</th><th scope="col">Band</th><th scope="col">Read</th></tr></thead><tbody>${rows}</tbody></table><p class="fine">${readingBasis}</p>`;
  const body = lists.length > 0 ? lists : html`<p>${noWorkWords}</p>`;
  return html`${body}${table}`;
}
