/** What can be chosen in the panel: the state of each circuit, mains volts and wire temperature, and whether it follows the editor. */

import { type Budget, type ValueRange, valueRanges } from '@ohmstead/record';
import type { CircuitView } from '../budget-view.js';
import { type Html, html } from '../html.js';
import { listed, stateId, stateLabel } from '../words.js';
import { type PanelChoice, shownState } from './panel.js';

export function controls(budget: Budget, circuits: readonly CircuitView[], choice: PanelChoice): Html {
  const choosable = circuits.filter(({ states }) => states.length > 1);
  const selectors = choosable.map((circuit, index) => {
    const of = choosable.length > 1 ? listed(circuit.supplies.map(({ name }) => name)) : '';
    return stateSelector(circuit, String(index), of, choice);
  });
  const sliders = choice.values !== undefined && valueSliders(budget, choice);
  if (selectors.length === 0 && sliders === false) return html``;
  return html`<div class="controls" role="group" aria-label="What is shown">${selectors}${sliders}</div>`;
}

/** Nothing where the surface has no such choice. */
export function pinButton(pinned: boolean | undefined): Html {
  if (pinned === undefined) return html``;
  const title = pinned ? 'Follow the editor again' : 'Stay with this record, whatever is in the editor';
  return html`<button type="button" class="toggle" data-pin aria-pressed="${pinned ? 'true' : 'false'}" title="${title}">${pinned ? 'Pinned' : 'Pin'}</button>`;
}

/** `group` tells the selectors of one page apart; `of` names the circuit where there are several. */
export function stateSelector(circuit: CircuitView, group: string, of: string, choice: PanelChoice): Html {
  if (circuit.states.length < 2) return html``;
  const shown = shownState(circuit, choice);
  const options = circuit.states.map((state) => {
    const id = stateId(state);
    const checked = shown !== undefined && stateId(shown) === id && html` checked`;
    return html`<label class="choice"><input type="radio" name="state-${group}" value="${id}" data-circuit="${circuit.key}"${checked}> <span>${stateLabel(state)}</span></label>`;
  });
  return html`<fieldset class="states"><legend>Show the figures${of !== '' && ` of ${of}`}</legend>${options}</fieldset>`;
}

function valueSliders(budget: Budget, { values = {} }: PanelChoice): Html {
  const { mainsVolts, wireCelsius } = valueRanges(budget.profile);
  const chosen = values.mainsVolts !== undefined || values.wireCelsius !== undefined;
  const mains = values.mainsVolts ?? mainsVolts.nominal;
  const wire = values.wireCelsius ?? wireCelsius.nominal;
  const note = chosen
    ? html`<p class="fine" role="status">Figures of a state are at ${mains} V mains and ${values.wireCelsius === undefined ? 'wire as it is recorded' : `${wire} °C wire`}. Findings, least and most are judged at the marked ends all the same. <button type="button" class="follow" data-values="nominal">Back to nominal</button></p>`
    : html`<p class="fine">Findings are judged at the marked ends, wherever these stand.</p>`;
  return html`<fieldset class="states values"><legend>Mains and wire</legend>${slider('mainsVolts', 'Mains', 'V', mainsVolts, mains, 0.5, ['low', 'high'])}${slider('wireCelsius', 'Wire', '°C', wireCelsius, wire, 1, ['cold', 'warm'])}${note}</fieldset>`;
}

/** The marks stand under the ends and the nominal value of its track. */
function slider(
  name: string,
  label: string,
  unit: string,
  { least, nominal, most }: ValueRange,
  value: number,
  step: number,
  [below, above]: readonly [string, string],
): Html {
  const share = (at: number) => `${Number((((at - least) / (most - least)) * 100).toFixed(2))}%`;
  const mark = (at: number, words: string, anchor: string) =>
    html`<rect class="slider-mark" x="${share(at)}" y="0" width="1" height="5"></rect><text x="${share(at)}" y="17" text-anchor="${anchor}">${at} ${words}</text>`;
  return html`<label class="slider"><span>${label} <output>${value} ${unit}</output></span><input type="range" data-value="${name}" min="${least}" max="${most}" step="${step}" value="${value}" aria-label="${label}, ${unit}" aria-valuetext="${value} ${unit}"><svg class="slider-marks" width="100%" height="20" aria-hidden="true" focusable="false">${mark(least, below, 'start')}${mark(nominal, 'nominal', 'middle')}${mark(most, above, 'end')}</svg></label>`;
}
