/** An explanation as a whole page, and the sections of it that the editor's panel shows as well. */

import { compareStyle } from './compare-style.js';
import { explainStyle } from './explain-style.js';
import {
  asSentence,
  type Explained,
  type ExplainView,
  explainBasis,
  explainView,
  type FaultView,
  sameWords,
} from './explain-view.js';
import { Html, html, sentence } from './html.js';
import { pageStyle } from './page-style.js';
import { cautionWords } from './words.js';

/** How names and readings are shown: plain on paper, followed into the text in a panel. */
export interface ExplainSurface {
  part(name: string): Html;
  reading(place: { readonly block: number; readonly index: number }, words: Html): Html;
}

const paper: ExplainSurface = { part: (name) => html`${name}`, reading: (_place, words) => words };

/** Self-contained, without script, fit to be printed or kept. */
export function explainHtml(explained: Explained): string {
  const view = explainView(explained);
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${view.title}: what fits the readings</title>
<style>${new Html(pageStyle + compareStyle + explainStyle)}</style>
</head>
<body>
<main class="changes explain">
<header><h1>${view.title}</h1><p>${sentence(view.verdict)}</p></header>
${explainSections(view, explained.profile, paper)}
</main>
</body>
</html>
`.markup;
}

export function explainSections(view: ExplainView, profile: string, surface: ExplainSurface): Html {
  return html`${nextSection(view)}${faultSection(view, surface)}${excludedSection(view, surface)}${readingSection(view, surface)}${view.notes.map((note) => html`<p class="fine">${sentence(note)}</p>`)}<footer>${view.faults.length > 0 && html`<p class="fine">${explainBasis}</p>`}<p class="fine">${cautionWords(profile)}</p></footer>`;
}

function nextSection({ next }: ExplainView): Html {
  return html`${next !== null && html`<section class="next"><h2>Next</h2><p>${sentence(next.words)}</p></section>`}`;
}

function faultSection({ faults, faultsHeading }: ExplainView, surface: ExplainSurface): Html {
  return html`${faults.length > 0 && html`<section><h2>${faultsHeading}</h2><ol class="faults">${faults.map((fault) => faultItem(fault, surface))}</ol></section>`}`;
}

function faultItem({ what, share, likelihood, parts, predicts, sameAs }: FaultView, surface: ExplainSurface): Html {
  const width = Math.round(Math.min(1, Math.max(0, likelihood)) * 100);
  const bar = html`<svg class="share" viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true"><rect class="track" width="100" height="4"/><rect class="part" width="${width}" height="4"/></svg>`;
  const on =
    parts.length > 0 &&
    html`<p class="fine">On ${parts.map((name, index) => html`${index > 0 && ', '}${surface.part(name)}`)}.</p>`;
  const shown = predicts.map(
    ({ words, fits, block, index }) =>
      html`<li>${surface.reading({ block, index }, sentence(words))} <span class="${fits ? 'fits' : 'off'}">${fits ? 'as read' : 'off'}</span></li>`,
  );
  const same =
    sameAs.length > 0 &&
    html`<p class="fine">${sameWords} ${sameAs.map((one, index) => html`${index > 0 && '; '}${sentence(one)}`)}.</p>`;
  return html`<li><p><strong>${share}</strong> ${sentence(asSentence(what))}</p>${bar}${on}${same}${shown.length > 0 && html`<details><summary>What should be read if so</summary><ul>${shown}</ul></details>`}</li>`;
}

function excludedSection({ excluded }: ExplainView, surface: ExplainSurface): Html {
  const rows = excluded.map(
    ({ what, by, block, index }) =>
      html`<tr><th scope="row">${sentence(asSentence(what))}</th><td class="words">${surface.reading({ block, index }, sentence(by))}</td></tr>`,
  );
  return html`${rows.length > 0 && html`<section><h2>Excluded</h2><table class="excluded"><caption class="unseen">Faults that a reading excludes</caption><thead><tr><th scope="col">Fault</th><th scope="col" class="words">By</th></tr></thead><tbody>${rows}</tbody></table></section>`}`;
}

function readingSection({ readings }: ExplainView, surface: ExplainSurface): Html {
  const rows = readings.map(
    ({ block, index, on, where, read, expected, verdict, bad }) =>
      html`<tr class="${verdict === 'disagrees' || bad !== null ? 'off' : ''}"><th scope="row">${surface.reading({ block, index }, sentence(where))}<span class="when">${on}</span></th><td>${sentence(read)}</td><td>${sentence(expected ?? '–')}</td><td>${verdict}${bad !== null && html`<span class="when">${sentence(asSentence(bad))}</span>`}</td></tr>`,
  );
  return html`${rows.length > 0 && html`<section><h2>Readings</h2><table><caption class="unseen">Readings, and what a sound house shows</caption><thead><tr><th scope="col">Where</th><th scope="col">Read</th><th scope="col">Expected</th><th scope="col">Verdict</th></tr></thead><tbody>${rows}</tbody></table></section>`}`;
}
