/** The panel's pictures, each with its table behind it. */

import type { CircuitChoice } from '../drawing/scope.js';
import { Html, html } from '../html.js';

export interface PanelDrawing {
  /** "porch-button held". */
  readonly caption: string;
  /** Null while it is being laid out for the first time. */
  readonly svg: string | null;
  readonly table: string;
  readonly circuits: readonly CircuitChoice[];
  readonly drawn: string;
  readonly fits: boolean;
  /** Whether it is wider than the panel. */
  readonly goesOn: boolean;
}

export interface PanelPlot {
  readonly subject: string;
  readonly subjects: readonly string[];
  readonly pictures: readonly { readonly svg: string; readonly table: string }[];
}

export interface PanelPictures {
  readonly drawing: PanelDrawing | null;
  readonly along: PanelPlot | null;
  readonly howFar: PanelPlot | null;
  /** What was picked from the lists; absent: by the cursor. */
  readonly picked: { readonly circuit?: string; readonly along?: string; readonly 'how-far'?: string };
  /** Tables and pictures that were opened or folded. */
  readonly open: Readonly<Record<string, boolean>>;
  /** Whether the drawing is shown at its full size, however narrow the panel. */
  readonly fullSize: boolean;
  /** Why there is no drawing. */
  readonly problem?: string;
}

const isOpen = (pictures: PanelPictures, name: string, usually: boolean) =>
  (pictures.open[name] ?? usually) && html` open`;

export function drawingRegion(pictures: PanelPictures): Html {
  const { drawing, picked, problem } = pictures;
  if (problem !== undefined) return frame(pictures, 'drawing', 'Drawing', html`<p class="fine">${problem}</p>`);
  if (drawing === null || drawing.svg === null)
    return frame(pictures, 'drawing', 'Drawing', html`<p class="fine" role="status">Being laid out.</p>`);
  const all = drawing.fits ? 'all circuits' : 'the one at the cursor';
  const choice =
    drawing.circuits.length > 1 &&
    picker(
      'circuit',
      'Circuit',
      picked.circuit,
      all,
      drawing.circuits.map(({ of, words }) => [of, words] as const),
    );
  const size = html`<button type="button" class="toggle" data-full-size aria-pressed="${pictures.fullSize ? 'true' : 'false'}">Full size</button>`;
  const svg = html`<div class="picture" role="region" aria-label="Circuit drawing" tabindex="0">${new Html(drawing.svg)}</div>`;
  const body = html`<p class="fine">${drawing.caption}. Thick lines carry current; numbers are those of the findings.${drawing.goesOn && ' It goes on to the right.'}</p><div class="tools">${choice}${size}</div>${svg}${tableBehind(pictures, 'drawing-table', 'Drawing', drawing.table)}`;
  return frame(pictures, 'drawing', 'Drawing', body);
}

const headings = { along: 'Volts along the way', 'how-far': 'How far a run could go' } as const;
const labels = { along: 'Device', 'how-far': 'Run' } as const;
const nothing = {
  along: 'No current goes through it while one thing or nothing is pressed.',
  'how-far': 'It feeds no device whose least volts are known.',
} as const;

export function plotRegion(kind: 'along' | 'how-far', pictures: PanelPictures): Html {
  const plot = kind === 'along' ? pictures.along : pictures.howFar;
  if (plot === null || plot.subjects.length === 0) return html``;
  const followed = plot.subject === '' ? 'the one at the cursor' : `the one at the cursor (${plot.subject})`;
  const choice = picker(
    kind,
    labels[kind],
    pictures.picked[kind],
    followed,
    plot.subjects.map((name) => [name, name] as const),
  );
  const shown = plot.pictures.map(
    ({ svg, table }, index) =>
      html`<div class="picture" role="region" aria-label="${headingOf(kind, plot, index)}" tabindex="0">${new Html(svg)}</div>${tableBehind(pictures, `${kind}-table-${index}`, headingOf(kind, plot, index), table)}`,
  );
  const body = html`${choice}${shown.length > 0 ? shown : html`<p class="fine">${nothing[kind]}</p>`}`;
  return frame(pictures, kind, headings[kind], body);
}

function headingOf(kind: 'along' | 'how-far', { pictures }: PanelPlot, index: number): string {
  return pictures.length > 1 ? `${headings[kind]}, ${index + 1} of ${pictures.length}` : headings[kind];
}

function frame(pictures: PanelPictures, name: string, heading: string, body: Html): Html {
  return html`<details class="picture-frame" data-open="${name}" id="${name}"${isOpen(pictures, name, true)}><summary><h2>${heading}</h2></summary>${body}</details>`;
}

function tableBehind(pictures: PanelPictures, name: string, of: string, table: string): Html {
  return html`<details class="behind" data-open="${name}"${isOpen(pictures, name, false)}><summary>As a table</summary><div class="wide" role="region" aria-label="${of}, as a table" tabindex="0">${new Html(table)}</div></details>`;
}

function picker(
  name: string,
  label: string,
  picked: string | undefined,
  followed: string,
  options: readonly (readonly [value: string, words: string])[],
): Html {
  const selected = (value: string) => value === (picked ?? '') && html` selected`;
  const rest = options.map(([value, words]) => html`<option value="${value}"${selected(value)}>${words}</option>`);
  return html`<label class="picker">${label} <select data-pick="${name}"><option value=""${selected('')}>${followed}</option>${rest}</select></label>`;
}
