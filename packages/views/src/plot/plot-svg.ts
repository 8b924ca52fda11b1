/** Plots as SVG: every figure that they show stands in them as text too. */

import { formatVolts } from '@ohmstead/circuit';
import { textWidth } from '../drawing/geometry.js';
import { length } from '../figures.js';
import { Html, html } from '../html.js';
import { stateWords } from '../words.js';
import { dashes, plotStyle } from './plot-style.js';
import type { Reach, ReachLine } from './reach.js';
import type { Way } from './way.js';

const MARGIN = 22;
const ROW = 42;
const round = (value: number): number => Number(value.toFixed(1));

/** Even steps that are easily read: 1, 2 or 5 times a power of ten, five or so to what is shown. */
function ticks(most: number, shown = most): number[] {
  const rough = Math.max(shown, 1e-9) / 5;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = ([1, 2, 5].find((each) => each * power >= rough) ?? 10) * power;
  return Array.from({ length: Math.floor(most / step + 1e-9) + 1 }, (_, index) =>
    Number((index * step).toPrecision(6)),
  );
}

export interface PlotSvgOptions {
  /** In a page that has the sheet of styles. */
  readonly inPage?: boolean;
}

function sheet(
  title: string,
  what: string,
  width: number,
  height: number,
  body: Html,
  { inPage = false }: PlotSvgOptions,
): Html {
  return html`<svg xmlns="http://www.w3.org/2000/svg" class="plot" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="${title}: ${what}">
<title>${title}</title>
<desc>${what}</desc>
${!inPage && html`<style>${new Html(plotStyle)}</style>`}
<rect class="sheet" width="${width}" height="${height}"></rect>
<text class="title" x="${MARGIN}" y="28">${title}</text>
${body}</svg>
`;
}

/** Points from top to bottom as the current passes them, volts to the right; what is lost on the way stands between them. */
export function waySvg(way: Way, profile: string, options: PlotSvgOptions = {}): string {
  const { device, steps, series } = way;
  const between = steps.map(({ by, metres }) => (metres === undefined ? by : `${by}, ${length(metres, profile)}`));
  const left =
    14 +
    Math.max(...steps.map(({ words }) => textWidth(words, 12)), ...between.map((words) => 14 + textWidth(words, 10.5)));
  const [x0, across] = [MARGIN + left, 300];
  const columnWidths = series.map(({ state }) => Math.max(104, textWidth(state, 12) + 24));
  const width = Math.ceil(x0 + across + 20 + columnWidths.reduce((sum, each) => sum + each, 0) + MARGIN);
  const top = 74;
  const height = top + (steps.length - 1) * ROW + 46;
  const most = Math.max(1, ...series.flatMap(({ volts }) => volts)) * 1.02;
  const x = (volts: number) => round(x0 + (volts / most) * across);
  const y = (index: number) => top + index * ROW;
  const bottom = y(steps.length - 1);
  const grid = ticks(most).map(
    (volts) =>
      html`<path class="grid" d="M${x(volts)} ${top - 8}V${bottom + 8}"></path><text class="dim" x="${x(volts)}" y="${bottom + 26}" text-anchor="middle">${volts} V</text>`,
  );
  const rows = steps.map(({ words }, index) => {
    const by =
      index > 0 &&
      html`<text class="dim" x="${MARGIN + 14}" y="${y(index) - ROW / 2 + 4}" font-size="10.5">${between[index]}</text>`;
    return html`${by}<text x="${MARGIN}" y="${y(index) + 4}">${words}</text>`;
  });
  let column = x0 + across + 20;
  const lines = series.map(({ state, volts }, nth) => {
    const at = column;
    column += columnWidths[nth] ?? 0;
    const points = volts.map((each, index) => `${x(each)} ${y(index)}`);
    const figures = volts.map((each, index) => {
      const lost = Math.abs((volts[index - 1] ?? 0) - each);
      const loss =
        index > 0 &&
        html`<text class="dim" x="${at + 12}" y="${y(index) - ROW / 2 + 4}" font-size="10.5">${lost < 0.005 ? 'nothing lost' : `loses ${formatVolts(lost)}`}</text>`;
      return html`${loss}<circle class="point" cx="${x(each)}" cy="${y(index)}" r="${3 + nth}"></circle><text x="${at}" y="${y(index) + 4}">${formatVolts(each)}</text>`;
    });
    const dash = dashes[nth % dashes.length];
    return html`<path class="line" stroke-dasharray="${dash}" d="M${points.join('L')}"></path>${figures}<path class="line" stroke-dasharray="${dash}" d="M${at} ${top - 28}h18"></path><text x="${at}" y="${top - 34}">${state}</text>`;
  });
  const title = `Volts along the way to ${device}`;
  const what = series
    .map(
      ({ state, volts }) =>
        `${state}: ${volts.map((each, index) => `${steps[index]?.words} ${formatVolts(each)}`).join(', ')}`,
    )
    .join('; ');
  return sheet(title, what, width, height, html`${grid}${rows}${lines}`, options).markup;
}

/** Volts against length, a line for each size, named at its end, with the least volts across and what is recorded marked. */
export function reachSvg(reach: Reach, profile: string, options: PlotSvgOptions = {}): string {
  const { run, device, closed, loads, least, longestMetres, lines, present } = reach;
  const [x0, y0, across, tall] = [MARGIN + 46, 66, 460, 260];
  const all = lines.flatMap(({ points }) => points.map(({ volts }) => volts));
  const most = Math.max(least, ...all) * 1.03;
  const fewest = Math.min(least * 0.8, ...all);
  const x = (metres: number) => round(x0 + (metres / longestMetres) * across);
  const y = (volts: number) => round(y0 + tall - ((volts - fewest) / (most - fewest)) * tall);
  const unit = profile === 'north-america' ? 0.3048 : 1;
  const alongX = ticks(longestMetres / unit).map(
    (at) =>
      html`<path class="grid" d="M${x(at * unit)} ${y0}V${y0 + tall}"></path><text class="dim" x="${x(at * unit)}" y="${y0 + tall + 18}" text-anchor="middle">${at === 0 ? 0 : length(at * unit, profile)}</text>`,
  );
  const alongY = ticks(most, most - fewest)
    .filter((volts) => volts >= fewest)
    .map(
      (volts) =>
        html`<path class="grid" d="M${x0} ${y(volts)}H${x0 + across}"></path><text class="dim" x="${x0 - 8}" y="${y(volts) + 4}" text-anchor="end">${volts} V</text>`,
    );
  const names = spread(lines.map(({ points }) => y(points.at(-1)?.volts ?? fewest)));
  const curves = lines.map(({ gauge, points }, nth) => {
    const end = points.at(-1);
    const d = points.map(({ metres, volts }) => `${x(metres)} ${y(volts)}`).join('L');
    return (
      points.length > 1 &&
      html`<path class="line" stroke-dasharray="${dashes[nth % dashes.length]}" d="M${d}"></path><text x="${x(end?.metres ?? 0) + 8}" y="${(names[nth] ?? 0) + 4}">${gauge}</text>`
    );
  });
  const here =
    present &&
    html`<circle class="here" cx="${x(present.metres)}" cy="${y(present.volts)}" r="5"></circle><text x="${x(present.metres) + 9}" y="${y(present.volts) - 8}">as recorded: ${length(present.metres, profile)}, ${formatVolts(present.volts)}</text>`;
  const limit = html`<path class="limit" d="M${x0} ${y(least)}H${x0 + across}"></path><text x="${x0 + 6}" y="${y(least) + 14}">least for ${device}: ${formatVolts(least)}</text>`;
  const words = lines.map((line) => `${line.gauge}: ${farthestWords(line, profile)}`);
  const list = words.map((line, index) => html`<text x="${MARGIN}" y="${y0 + tall + 48 + index * 17}">${line}</text>`);
  const when = html`<text class="dim" x="${MARGIN}" y="47">Volts at ${device} ${stateWords({ closed, loads })}, against the length of ${run}; solid copper at 20 °C, nominal mains</text>`;
  const title = `How far could ${run} go`;
  const width = Math.max(
    x0 + across + 90,
    MARGIN * 2 +
      textWidth(
        `Volts at ${device} ${stateWords({ closed, loads })}, against the length of ${run}; solid copper at 20 °C, nominal mains`,
        12,
      ),
  );
  const height = y0 + tall + 58 + lines.length * 17;
  return sheet(
    title,
    words.join('; '),
    width,
    height,
    html`${when}${alongX}${alongY}<path class="axis" d="M${x0} ${y0}V${y0 + tall}H${x0 + across}"></path>${limit}${curves}${here}${list}`,
    options,
  ).markup;
}

/** Names of lines that end close together are set apart. */
function spread(ends: readonly number[]): number[] {
  const order = ends.map((_, index) => index).sort((one, other) => (ends[one] ?? 0) - (ends[other] ?? 0));
  const set: number[] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const index of order) {
    last = Math.max(ends[index] ?? 0, last + 14);
    set[index] = last;
  }
  return set;
}

export function farthestWords({ farthestMetres }: ReachLine, profile: string): string {
  if (farthestMetres === undefined) return 'too little at any length';
  if (!Number.isFinite(farthestMetres)) return 'farther than bell wire is run';
  const unit = profile === 'north-america' ? 0.3048 : 1;
  return `to about ${length(Math.floor(farthestMetres / unit) * unit, profile)}`;
}
