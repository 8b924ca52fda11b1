/** A comparison inside of an editor's panel: what changed, the figures in two columns, the findings, the work there and back. */

import type { Comparison, Pair, WorkOrders } from '@ohmstead/record';
import { comparisonSections } from './compare-html.js';
import { type CompareView, compareView } from './compare-view.js';
import { type Html, html } from './html.js';
import { orderBody, orderSection } from './work-order-html.js';
import { workView } from './work-order-view.js';
import { cautionWords, listed } from './words.js';

export interface ComparePanelChoice {
  /** What each side is, beside its title: "house.wiring at the last commit". */
  readonly labels: Pair<string>;
  /** On which side a part or run of this name can be shown in its text. */
  readonly sideOf: (name: string) => keyof Pair<unknown> | undefined;
  /** The later record can't be read at present: this is of the last text that could. */
  readonly stale: boolean;
  /** Statements that can't be read are left out. */
  readonly broken: Pair<boolean>;
}

/** Inner markup only; the style and what the buttons do are the host's. */
export function comparePanelHtml(
  comparison: Comparison,
  { there, back }: WorkOrders,
  choice: ComparePanelChoice,
): string {
  const view = compareView(comparison);
  const named = (name: string): Html => {
    const part = name.split('.')[0]!;
    const side = choice.sideOf(part);
    return side === undefined
      ? html`<code>${name}</code>`
      : html`<button type="button" class="name" data-part="${part}" data-side="${side}" title="Show in the record"><code>${name}</code></button>`;
  };
  const wayBack = workView(back, 'back');
  const orders =
    there.steps.length + back.steps.length > 0 &&
    html`${orderSection(workView(there, 'there'), named)}<details id="back"><summary>${wayBack.heading}</summary><p class="fine">${wayBack.about}</p>${orderBody(wayBack, named)}</details>`;
  return html`<div class="changes${choice.stale && ' is-stale'}">${noticesOf(choice)}<header><h1>What changed</h1><dl class="sides">${sideOf('Before', view.before, choice.labels.before)}${sideOf('After', view.after, choice.labels.after)}</dl><p class="summary" role="status">${summaryOf(comparison, view)}</p></header>${comparisonSections(view, named)}${orders}<footer><p class="fine">${cautionWords(comparison.profile.after ?? '')}</p></footer></div>`
    .markup;
}

function sideOf(heading: string, title: string, label: string | null): Html {
  return html`<div><dt>${heading}</dt><dd>${title}${label !== null && html` <span class="fine">${label}</span>`}</dd></div>`;
}

function noticesOf({ stale, broken, labels }: ComparePanelChoice): Html {
  const left = (['before', 'after'] as const).filter((side) => broken[side] === true);
  return html`${
    stale &&
    html`<p class="stale"><strong>Not up to date.</strong> The record has an error in its text; this is from before it.</p>`
  }${left.map((side) => html`<p class="stale"><strong>Not complete.</strong> ${labels[side] ?? ''} has statements that can’t be read. They are left out.</p>`)}`;
}

/** "2 parts, 1 cable and 3 conductors changed. 1 finding is new, 2 are gone." */
function summaryOf(
  { parts, runs, conductors, jumpers, leads, places, findings }: Comparison,
  view: CompareView,
): string {
  const counted = (count: number, one: string): string[] =>
    count === 0 ? [] : [`${count} ${one}${count === 1 ? '' : 's'}`];
  const changed = [
    ...counted(parts.length, 'part'),
    ...counted(runs.length, 'cable'),
    ...counted(conductors.length, 'conductor end'),
    ...counted(jumpers.length, 'jumper'),
    ...counted(leads.length, 'lead'),
    ...counted(places.length, 'place'),
  ];
  const said = [
    ...(findings.new.length === 0 ? [] : [`${counted(findings.new.length, 'finding')[0]} new`]),
    ...(findings.gone.length === 0 ? [] : [`${counted(findings.gone.length, 'finding')[0]} gone`]),
  ];
  const first = changed.length === 0 ? '' : `${listed(changed)} changed.`;
  const second = said.length === 0 ? 'The findings are the same.' : `${listed(said)}.`;
  return [view.verdict, first, second].filter((one) => one !== '').join(' ');
}
