/** A laid-out drawing as SVG: self-contained, without script, coloured by custom properties that a host may set. */

import { Html, html } from '../html.js';
import { insulationColours } from '../insulation.js';
import { wrapped } from '../plain.js';
import { drawingStyle } from './drawing-style.js';
import type {
  Column,
  DrawnPart,
  DrawnPlace,
  DrawnSplice,
  DrawnWire,
  Drawing,
  Mark,
  PartFigure,
  Point,
  Rail,
} from './geometry.js';
import { statesOf } from './drawing-table.js';
import { reach, symbolOf } from './symbols.js';

const MARGIN = 24;
const HEAD = 58;
const NOTE_LINE = 16;

interface DrawingSvgOptions {
  /** In a page that has the sheet of styles, follows clicks and says the findings itself. */
  readonly inPage?: boolean;
  /** The part, run or jumper at the cursor. */
  readonly marked?: string | undefined;
  /** Pixels across that there are for it: it is made smaller to fit. */
  readonly room?: number | undefined;
}

/** Smaller than this share, its small writing can't be read: it is scrolled instead. */
const LEAST_SCALE = 0.72;

/** Pixels across that it takes where there are so many, and at its full size. */
export function widthOf(drawing: Drawing, room = Number.POSITIVE_INFINITY): number {
  const width = Math.ceil(Math.max(drawing.width, 420) + 2 * MARGIN);
  return width * Math.min(1, Math.max(LEAST_SCALE, room / width));
}

export function drawingSvg(drawing: Drawing, { inPage = false, marked, room }: DrawingSvgOptions = {}): string {
  const width = widthOf(drawing);
  const said = inPage ? [] : drawing.notes;
  const notes = said.map((note) => ({
    ...note,
    lines: wrapped(note.words, Math.floor((width - 2 * MARGIN - 30) / 6.4)),
  }));
  const noteLines = notes.reduce((sum, { lines }) => sum + lines.length + 0.4, 0);
  const head = inPage ? 8 : HEAD;
  const height = Math.ceil(head + drawing.height + MARGIN + noteLines * NOTE_LINE + (notes.length > 0 ? 12 : 0));
  const sorted = [...drawing.wires].sort((one, other) => Number(one.live) - Number(other.live));
  const found =
    drawing.notes.length > 0 ? `, ${drawing.notes.length} finding${drawing.notes.length === 1 ? '' : 's'}` : '';
  const what = `${drawing.caption}; ${drawing.parts.length} parts, ${drawing.wires.length} conductors and links${found}`;
  const own = html`<title>${drawing.title}</title>
<desc>${what}</desc>
<style>${new Html(drawingStyle)}</style>
<rect class="sheet" width="${width}" height="${height}"></rect>
<text class="title" x="${MARGIN}" y="28">${drawing.title}</text>
<text class="caption" x="${MARGIN}" y="47">${drawing.caption}</text>
`;
  const scale = widthOf(drawing, room) / width;
  // What can be followed is no picture to a screen reader but a group of buttons.
  return html`<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="0 0 ${width} ${height}" width="${round(width * scale)}" height="${round(height * scale)}" role="${inPage ? 'group' : 'img'}" aria-label="${drawing.title}: ${what}">
${!inPage && own}<g transform="translate(${MARGIN} ${head})">
${drawing.places.map(place)}${drawing.parts.map((each) => part(each, inPage, marked))}${drawing.splices.map((each) => splice(each, marked))}${sorted.map((each) => wire(each, marked))}${sorted.map((each) => wireLabel(each, marked))}${drawing.marks.map(mark)}</g>
${noteBlock(notes, head + drawing.height + 30)}</svg>
`.markup;
}

const round = (value: number): number => Number(value.toFixed(1));

function place({ x, y, width, height, words }: DrawnPlace): Html {
  return html`<g class="place"><rect x="${round(x)}" y="${round(y)}" width="${round(width)}" height="${round(height)}" rx="6"></rect><text x="${round(x + 10)}" y="${round(y + 19)}">${words}</text></g>\n`;
}

/** Said by a frame or a weight as well as by colour. */
const atCursor = (name: string, marked: string | undefined) => name === marked && html` at-cursor`;

function part({ x, y, figure }: DrawnPart, inPage: boolean, marked: string | undefined): Html {
  const { width, height, top, name, about, columns, rails, core } = figure;
  const label = [`${name}: ${about}`, ...statesOf(figure)].join(', ');
  // The button is a frame of its own over the picture, so that its name is all that is read.
  const button =
    inPage &&
    html`<rect class="frame" role="button" tabindex="0" aria-label="${label}" x="-6" y="-5" width="${width + 12}" height="${height + 11}" rx="5"></rect>`;
  return html`<g class="part${atCursor(name, marked)}" data-part="${name}" transform="translate(${round(x)} ${round(y)})"><title>${name}: ${about}</title>
<g${inPage && html` aria-hidden="true"`}><text class="name" x="2" y="12">${name}</text><text class="about" x="2" y="27">${about}</text>
${height > top && html`<rect class="body" y="${top}" width="${width}" height="${height - top}" rx="3"></rect>`}
${rails.map((each) => rail(each, figure))}${columns.map(column)}${core.map((line) => html`<path class="core" d="M${round(line.x - 2)} ${line.from}V${line.to}M${round(line.x + 2)} ${line.from}V${line.to}"></path>`)}</g>${button}</g>
`;
}

function rail({ words, side, y, end, dots, live }: Rail, { width }: PartFigure): Html {
  const edge = side === 'WEST' ? 0 : width;
  const anchor = side === 'WEST' ? 'start' : 'end';
  return html`<path class="inner${live && ' live'}" d="M${edge} ${y}H${round(end)}"></path>${dots.map((x) => html`<circle class="dot" cx="${round(x)}" cy="${y}" r="2.5"></circle>`)}<circle class="screw" cx="${edge}" cy="${y}" r="4"></circle><text class="terminal" x="${side === 'WEST' ? 8 : width - 8}" y="${y - 5}" text-anchor="${anchor}">${words}</text>`;
}

function column({ element, x, y, from, to, closed, live, caption, bridge }: Column): Html {
  const [high, low] = from <= to ? [from, to] : [to, from];
  const strokes = symbolOf(element, closed).map(
    ({ d, filled }) => html`<path${filled && html` class="filled"`} d="${d}"></path>`,
  );
  // A symbol whose first terminal is the lower one stands on its head, so that a diode points the right way.
  const turned = from > to && html` scale(1 -1)`;
  const upper = y - reach > high && html`<path d="M0 ${round(high - y)}V${-reach}"></path>`;
  const lower = y + reach < low && html`<path d="M0 ${reach}V${round(low - y)}"></path>`;
  return html`<g class="inner symbol${live && ' live'}${bridge && ' bridge'}" transform="translate(${round(x)} ${round(y)})">${upper}${lower}<g transform="translate(0 0)${turned}">${strokes}</g>${caption !== '' && html`<text class="figure" x="15" y="4">${caption}</text>`}</g>`;
}

function splice({ x, y, width, height, name, label }: DrawnSplice, marked: string | undefined): Html {
  return html`<g class="splice${atCursor(name, marked)}" data-part="${name}"><title>${name}</title><rect x="${round(x)}" y="${round(y)}" width="${round(width)}" height="${round(height)}" rx="${width / 2}"></rect><text x="${round(label.x + label.width / 2)}" y="${round(label.y + 11)}" text-anchor="middle">${name}</text></g>\n`;
}

const path = (points: readonly Point[]): string =>
  points.map(({ x, y }, index) => `${index === 0 ? 'M' : 'L'}${round(x)} ${round(y)}`).join('');

/** The insulation's colour between dark edges, so that white shows on white and black on black; a stripe is dashed over it. */
function wire({ kind, of, colour, points, live, label }: DrawnWire, marked: string | undefined): Html {
  const d = path(points);
  const [base, stripe] = insulationColours(colour ?? '');
  const strokes =
    base === undefined
      ? html`<path class="bare" d="${d}"></path>`
      : html`<path class="edge" d="${d}"></path><path class="insulation" d="${d}" stroke="${base}"></path>${stripe !== undefined && html`<path class="insulation stripe" d="${d}" stroke="${stripe}"></path>`}`;
  return html`<g class="wire ${kind}${live && ' live'}${atCursor(of, marked)}" data-part="${of}"><title>${label.text}${live && ', carries current'}</title>${strokes}</g>\n`;
}

function wireLabel({ label, live, of }: DrawnWire, marked: string | undefined): Html {
  const { x, y, width, height, text } = label;
  return html`<g class="wire-label${live && ' live'}${atCursor(of, marked)}" data-part="${of}"><rect x="${round(x)}" y="${round(y)}" width="${round(width)}" height="${round(height)}" rx="3"></rect><text x="${round(x + width / 2)}" y="${round(y + height / 2 + 3.7)}" text-anchor="middle">${text}</text></g>\n`;
}

/** A number in a shape that tells how grave it is. */
function mark({ number, severity, at }: Mark): Html {
  const shape =
    severity === 'error'
      ? html`<path d="M-5 -9H5L9 -5V5L5 9H-5L-9 5V-5Z"></path>`
      : severity === 'warning'
        ? html`<path d="M0 -10L10 8H-10Z"></path>`
        : html`<circle r="8.5"></circle>`;
  return html`<g class="mark ${severity}" transform="translate(${round(at.x)} ${round(at.y)})">${shape}<text y="${severity === 'warning' ? 6 : 4}" text-anchor="middle">${number}</text></g>\n`;
}

function noteBlock(
  notes: readonly (Drawing['notes'][number] & { readonly lines: readonly string[] })[],
  top: number,
): Html {
  let y = top;
  return html`${notes.map(({ number, severity, lines }) => {
    const at = y;
    y += (lines.length + 0.4) * NOTE_LINE;
    return html`<g class="note">${mark({ number, severity, at: { x: MARGIN + 10, y: at - 4 } })}${lines.map((line, index) => html`<text x="${MARGIN + 28}" y="${round(at + index * NOTE_LINE)}">${line}</text>`)}</g>`;
  })}`;
}
