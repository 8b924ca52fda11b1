/** Bars and gauges as SVG without a view box: lengths in per cent, so they stretch with the page and need no script or style. */

import type { BudgetDevice } from '@ohmstead/record';
import type { ElementView, WindingView } from './budget-view.js';
import { type Html, html } from './html.js';
import { insulationColours } from './insulation.js';

/** Coordinates as short as they can be said. */
function share(value: number, whole: number): string {
  return `${Number(((Math.min(Math.max(value, 0), whole) / whole) * 100).toFixed(2))}%`;
}

function bar(name: string, y: number, height: number, from: number, to: number, whole: number): Html {
  const width = share(Math.max(to - from, 0), whole);
  return html`<rect class="${name}" x="${share(from, whole)}" y="${y}" width="${width}" height="${height}"></rect>`;
}

/** A mark of fixed width, so that it stays visible where a length would vanish. */
function mark(name: string, y: number, height: number, at: number, whole: number): Html {
  return html`<svg x="${share(at, whole)}" overflow="visible"><rect class="${name}" x="-1.5" y="${y}" width="3" height="${height}"></rect></svg>`;
}

/** A pointer from above, unlike any other mark, so that the state that is shown is told by shape. */
function pointer(name: string, at: number, whole: number): Html {
  return html`<svg x="${share(at, whole)}" overflow="visible"><path class="${name}" d="M-5 -4h10L0 4z"></path></svg>`;
}

/** How much of a supply's rating is drawn: at worst, by what lasts, and in the state that is shown. The words beside it say the same. */
export function loadBar({ worstShare, lastingShare }: WindingView, shown: number | null): Html {
  const whole = Math.max(1, (worstShare ?? 0) * 1.05);
  return html`<svg class="bar" width="100%" height="14" aria-hidden="true" focusable="false">${[
    bar('bar-track', 2, 10, 0, 1, whole),
    worstShare !== null && bar('bar-worst', 2, 10, 0, worstShare, whole),
    lastingShare !== null && lastingShare > 1 && bar('bar-over', 2, 10, 1, lastingShare, whole),
    lastingShare !== null && bar('bar-lasting', 5, 4, 0, Math.min(lastingShare, 1), whole),
    whole > 1 && mark('bar-rated', 0, 14, 1, whole),
    shown !== null && pointer('bar-shown', shown, whole),
  ]}</svg>`;
}

/** The volts a device sees against its band: all conditions (thin), nominal mains (thick), the state that is shown (a mark). */
export function voltsGauge(device: BudgetDevice, view: ElementView, scale: number, shown: number | null): Html {
  const { element, nominal } = view;
  const { least, most } = device.band;
  const banded = least !== null || most !== null;
  const from = Math.abs((element.leastWorking ?? element.least)?.volts ?? nominal?.least ?? 0);
  const to = Math.abs(element.most?.volts ?? nominal?.most ?? 0);
  const edge = (volts: number | null, anchor: 'end' | 'start') =>
    volts !== null &&
    html`<text x="${share(volts, scale)}" y="33" text-anchor="${anchor}">${Number(volts.toFixed(1))}</text>`;
  return html`<svg class="gauge" width="100%" height="${banded ? 36 : 22}" aria-hidden="true" focusable="false">${[
    html`<rect class="gauge-line" x="0" y="10" width="100%" height="1"></rect>`,
    banded && bar('gauge-band', 1, 19, least ?? 0, most ?? scale, scale),
    least !== null && mark('gauge-edge', 1, 19, least, scale),
    most !== null && mark('gauge-edge', 1, 19, most, scale),
    bar('gauge-whole', 9, 3, from, to, scale),
    nominal !== null && bar('gauge-nominal', 6, 9, nominal.least, nominal.most, scale),
    nominal !== null && nominal.most - nominal.least < scale / 100 && mark('gauge-nominal', 6, 9, nominal.most, scale),
    shown !== null && pointer('gauge-shown', shown, scale),
    banded && (least ?? scale) > scale * 0.15 && edge(0, 'start'),
    edge(least, 'start'),
    edge(most, 'end'),
  ]}</svg>`;
}

/** A drop of the insulation's colour, beside its name; a striped conductor shows both. */
export function swatch(colour: string): Html {
  const [base, stripe] = insulationColours(colour);
  if (base === undefined) return html``;
  const second = stripe !== undefined && html`<rect x="4" y="2" width="4" height="8" fill="${stripe}"></rect>`;
  return html`<svg class="swatch" width="12" height="12" aria-hidden="true" focusable="false"><rect x="1" y="2" width="10" height="8" fill="${base}"></rect>${second}<rect class="swatch-edge" x="1" y="2" width="10" height="8"></rect></svg>`;
}
