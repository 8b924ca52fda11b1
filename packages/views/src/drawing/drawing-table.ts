/** What a drawing shows, as tables: for who does not see it, and for who looks for one figure. */

import type { PartElement } from '@ohmstead/record';
import { type Html, html } from '../html.js';
import type { Column, PartFigure } from './geometry.js';
import type { Sketch } from './sketch.js';

/** How a part's name is shown: followable where the surface can. */
type NameHtml = (name: string) => Html;

/** Parts with what their elements do in the chosen state, then every conductor and link with its ends. */
export function drawingTable({ figures, wires, caption }: Sketch, name: NameHtml): string {
  const parts = figures.map(
    (figure) =>
      html`<tr><th scope="row">${name(figure.name)}</th><td>${figure.about}</td><td>${statesOf(figure).join(', ')}</td></tr>`,
  );
  const links = wires.map(
    ({ of, words, from, to, live }) =>
      html`<tr><th scope="row">${words.endsWith(of) ? html`${words.slice(0, words.length - of.length)}${name(of)}` : words}</th><td>${from}</td><td>${to}</td><td>${live ? 'yes' : 'no'}</td></tr>`,
  );
  return html`<table class="words-table"><caption>Parts, ${caption}</caption><thead><tr><th scope="col">Part</th><th scope="col">What it is</th><th scope="col">What it does</th></tr></thead><tbody>${parts}</tbody></table><table class="words-table"><caption>Conductors and links, ${caption}</caption><thead><tr><th scope="col">Conductor</th><th scope="col">From</th><th scope="col">To</th><th scope="col">Carries current</th></tr></thead><tbody>${links}</tbody></table>`
    .markup;
}

/** "contact closed", "coil 16.7 V", "by-pass jumper": what a part's symbols say. */
export function statesOf({ columns }: PartFigure): string[] {
  return columns.flatMap((column) => stateOf(column) ?? []);
}

const silent = new Set<PartElement['kind']>(['primary', 'link']);

function stateOf({ element, closed, caption, live, bridge }: Column): string | undefined {
  if (bridge) return `${caption} in place`;
  if (silent.has(element.kind)) return undefined;
  if (element.kind === 'contact') return closed ? 'contact closed' : 'contact open';
  const figures = [element.kind, caption].filter((words) => words !== '').join(' ');
  return live ? `${figures}, carries current` : figures;
}
