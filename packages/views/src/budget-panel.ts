/** The panel's inner markup: the budget with a choice of state for each circuit, and names that can be followed into the text. */

import type { Budget, StateKey } from '@ohmstead/record';
import {
  assumptionSection,
  deviceSection,
  findingSection,
  runSection,
  type Surface,
  supplySection,
} from './budget-sections.js';
import { type CircuitView, circuitViews, type ShownFinding } from './budget-view.js';
import { type Html, html } from './html.js';
import {
  basisWords,
  cautionWords,
  countWords,
  listed,
  profileWords,
  stateId,
  stateLabel,
  titleWords,
} from './words.js';

export interface PanelChoice {
  readonly findings?: readonly ShownFinding[];
  /** By circuit key, the id of the state whose figures are shown; the first state where there is none. */
  readonly shown?: Readonly<Record<string, string>>;
  /** The part or run at the cursor. */
  readonly marked?: string;
  /** The text no longer reads as a record; this is the last that did. */
  readonly stale?: boolean;
}

function shownState(circuit: CircuitView, choice: PanelChoice): StateKey | undefined {
  const wanted = choice.shown?.[circuit.key];
  return circuit.states.find((state) => stateId(state) === wanted) ?? circuit.states[0];
}

function surfaceOf(choice: PanelChoice): Surface {
  return {
    name: (name) =>
      html`<button type="button" class="name" data-part="${name}" title="Show in the record">${name}</button>`,
    finding: ({ uri, range }, words) =>
      uri === undefined || range === undefined
        ? words
        : html`<button type="button" class="follow" data-uri="${uri}" data-range="${JSON.stringify(range)}">${words}</button>`,
    shown: (circuit) => shownState(circuit, choice),
    marked: (name) => name === choice.marked,
  };
}

function stateSelector(circuit: CircuitView, index: number, choice: PanelChoice): Html {
  if (circuit.states.length < 2) return html``;
  const shown = shownState(circuit, choice);
  const options = circuit.states.map((state) => {
    const id = stateId(state);
    const checked = shown !== undefined && stateId(shown) === id && html` checked`;
    return html`<label class="choice"><input type="radio" name="state-${index}" value="${id}" data-circuit="${circuit.key}"${checked}> <span>${stateLabel(state)}</span></label>`;
  });
  return html`<fieldset class="states"><legend>Show the figures</legend>${options}</fieldset>`;
}

/** Heads a circuit only where there are several, or where nothing feeds it. */
function circuitHeading(circuit: CircuitView, several: boolean): Html {
  const names = circuit.supplies.map(({ name }) => name);
  if (circuit.key === '' && names.length === 0) return html`<h2 class="circuit-name">Not on any circuit</h2>`;
  if (names.length === 0) return html`<h2 class="circuit-name">No supply feeds these</h2>`;
  return several ? html`<h2 class="circuit-name">Circuit of ${listed(names)}</h2>` : html``;
}

/** Inner markup only; the style and what the buttons do are the host's. */
export function budgetPanelHtml(budget: Budget, choice: PanelChoice = {}): string {
  const surface = surfaceOf(choice);
  const circuits = circuitViews(budget);
  const findings = choice.findings ?? budget.findings;
  const counts = countWords(findings);
  const sections = circuits.map(
    (circuit, index) =>
      html`<div class="circuit">${circuitHeading(circuit, circuits.length > 1)}${stateSelector(circuit, index, choice)}${circuit.supplies.length > 0 && html`<h2>Supply</h2>`}${circuit.supplies.map((supply) => supplySection(budget, supply, circuit, surface))}${deviceSection(circuit, surface)}</div>`,
  );
  const empty = circuits.length === 0 && html`<p class="empty">No supply or device is recorded yet.</p>`;
  const stale =
    choice.stale === true &&
    html`<p class="stale" role="status"><strong>Not up to date.</strong> The record has an error in its text; these are the figures from before it.</p>`;
  return html`<div class="budget${choice.stale === true && ' is-stale'}">${stale}<header><h1>${titleWords(budget)}</h1><p class="fine">Load budget, ${profileWords(budget.profile)}. ${findings.length > 0 ? html`<a href="#findings">${counts}</a>` : counts}.</p></header>${empty}${sections}${runSection(budget, circuits, surface)}${findingSection(findings, surface)}${assumptionSection(budget)}<footer><p class="fine">${basisWords}</p><p class="caution">${cautionWords(budget.profile)}</p></footer></div>`
    .markup;
}
