/** The panel's inner markup, region by region: the budget with a choice of state for each circuit, pictures, and names that can be followed into the text. */

import type { Budget, ChosenValues, StateKey } from '@ohmstead/record';
import {
  assumptionSection,
  branchSection,
  deviceSection,
  findingSection,
  runPart,
  type Surface,
  supplySection,
} from '../budget-sections.js';
import { type CircuitView, circuitViews, type ShownFinding } from '../budget-view.js';
import { Html, html } from '../html.js';
import { basisWords, budgetCautions, countWords, listed, profileWords, stateId, titleWords } from '../words.js';
import { controls, pinButton, stateSelector } from './controls.js';
import { drawingRegion, type PanelPictures, plotRegion } from './pictures.js';

export interface PanelChoice {
  readonly findings?: readonly ShownFinding[];
  /** By circuit key, the id of the state whose figures are shown; the first state where there is none. */
  readonly shown?: Readonly<Record<string, string>>;
  /** The part or run at the cursor. */
  readonly marked?: string;
  /** The text no longer reads as a record; this is the last that did. */
  readonly stale?: boolean;
  /** Mains volts and wire temperature in place of the nominal ones; absent where the surface has no such choice. */
  readonly values?: ChosenValues;
  /** Whether the panel stays with its record; absent where the surface has no such choice. */
  readonly pinned?: boolean;
  readonly pictures?: PanelPictures;
}

/** One element of the panel, under a key that it keeps while the record is edited. */
export interface PanelRegion {
  readonly key: string;
  readonly markup: string;
}

/** With more circuits than this, each has its choice of state beside its own figures. */
const MOST_AT_TOP = 4;

export function shownState(circuit: CircuitView, choice: PanelChoice): StateKey | undefined {
  const wanted = choice.shown?.[circuit.key];
  return circuit.states.find((state) => stateId(state) === wanted) ?? circuit.states[0];
}

/** A name that leads into the text. */
export const followable = (name: string): Html =>
  html`<button type="button" class="name" data-part="${name}" title="Show in the record">${name}</button>`;

function surfaceOf(choice: PanelChoice): Surface {
  return {
    name: followable,
    finding: ({ uri, range }, words) =>
      uri === undefined || range === undefined
        ? words
        : html`<button type="button" class="follow" data-uri="${uri}" data-range="${JSON.stringify(range)}">${words}</button>`,
    shown: (circuit) => shownState(circuit, choice),
    marked: (name) => name === choice.marked,
    numbered: choice.pictures !== undefined,
  };
}

/** Heads a circuit only where there are several, or where nothing feeds it. */
function circuitHeading(circuit: CircuitView, several: boolean): Html {
  const names = circuit.supplies.map(({ name }) => name);
  if (circuit.key === '' && names.length === 0) return html`<h2 class="circuit-name">Not on any circuit</h2>`;
  if (names.length === 0) return html`<h2 class="circuit-name">No supply feeds these</h2>`;
  return several ? html`<h2 class="circuit-name">Circuit of ${listed(names)}</h2>` : html``;
}

/** The style and what the buttons do are the host's. */
export function panelRegions(budget: Budget, choice: PanelChoice = {}): PanelRegion[] {
  const surface = surfaceOf(choice);
  const circuits = circuitViews(budget);
  const findings = choice.findings ?? budget.findings;
  const counts = countWords(findings);
  const atTop = circuits.length <= MOST_AT_TOP ? circuits : drawnOf(circuits, choice.pictures);
  const regions: (readonly [key: string, markup: Html | false])[] = [
    [
      'stale',
      choice.stale === true &&
        html`<p class="stale" role="status"><strong>Not up to date.</strong> The record has an error in its text; these are the figures from before it.</p>`,
    ],
    [
      'head',
      html`<header>${pinButton(choice.pinned)}<h1>${titleWords(budget)}</h1><p class="fine">Load budget, ${profileWords(budget.profile)}. ${findings.length > 0 ? html`<a href="#findings">${counts}</a>` : counts}.</p></header>`,
    ],
    ['controls', controls(budget, atTop, choice)],
    ['drawing', choice.pictures !== undefined && drawingRegion(choice.pictures)],
    ['empty', circuits.length === 0 && html`<p class="empty">No supply or device is recorded yet.</p>`],
    ...circuits.map((circuit, index): readonly [string, Html] => {
      const own = !atTop.includes(circuit) && stateSelector(circuit, `own-${index}`, '', choice);
      return [
        `circuit ${circuit.key}`,
        html`<div class="circuit">${circuitHeading(circuit, circuits.length > 1)}${own}${circuit.supplies.length > 0 && html`<h2>Supply</h2>`}${circuit.supplies.map((supply) => supplySection(budget, supply, circuit, surface))}${deviceSection(circuit, surface)}</div>`,
      ];
    }),
    ['along', choice.pictures !== undefined && plotRegion('along', choice.pictures)],
    ['how-far', choice.pictures !== undefined && plotRegion('how-far', choice.pictures)],
    [
      'line-side',
      (budget.branches ?? []).length > 0 && html`<div class="line-side-region">${branchSection(budget, surface)}</div>`,
    ],
    ['wire', budget.runs.length > 0 && html`<h2>Wire</h2>`],
    ...budget.runs.map((run) => [`run ${run.name}`, runPart(run, budget, circuits, surface)] as const),
    ['findings', findings.length > 0 && html`<div class="findings-region">${findingSection(findings, surface)}</div>`],
    ['assumed', html`<div class="assumed-region">${assumptionSection(budget)}</div>`],
    ['foot', html`<footer><p class="fine">${basisWords}</p><p class="caution">${budgetCautions(budget)}</p></footer>`],
  ];
  return regions.flatMap(([key, markup]) =>
    markup === false || markup.markup === '' ? [] : [{ key, markup: markup.markup }],
  );
}

/** Of many circuits, the one that is drawn. */
function drawnOf(circuits: readonly CircuitView[], pictures: PanelPictures | undefined): CircuitView[] {
  const drawn = pictures?.drawing?.drawn ?? '';
  return circuits.filter(
    ({ supplies, devices }) =>
      supplies.some(({ name }) => name === drawn) || devices.some(({ device }) => device.name === drawn),
  );
}

/** All of it at once. */
export function budgetPanelHtml(budget: Budget, choice: PanelChoice = {}): string {
  const regions = panelRegions(budget, choice).map(({ markup }) => new Html(markup));
  return html`<div class="budget${choice.stale === true && ' is-stale'}">${regions}</div>`.markup;
}
