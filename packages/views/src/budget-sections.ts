/** The sections of the budget as markup, for the page and for the panel alike. */

import type { Budget, BudgetConductor, BudgetRun, BudgetSupply, StateKey } from '@ohmstead/record';
import { loadBar, swatch, voltsGauge } from './bars.js';
import { branchBasis, branchHeading, branchViews } from './budget-branches.js';
import {
  aboutWords,
  type CircuitView,
  circuitOfConductor,
  connected,
  type DeviceView,
  type ElementView,
  gaugeScale,
  type ShownFinding,
  type WindingState,
  type WindingView,
  windingView,
  worstDrop,
} from './budget-view.js';
import { amps, cell, length, size, voltAmperes, volts } from './figures.js';
import { type Html, html, sentence } from './html.js';
import {
  acceptedWords,
  severityWords,
  shareWords,
  stateId,
  stateLabel,
  stateWords,
  upperFirst,
  worstFirst,
} from './words.js';

/** What differs between surfaces: how a part's name is followed, which state is shown, which part is marked. */
export interface Surface {
  /** A part's or run's name, followable where the surface can. */
  name(name: string): Html;
  finding(finding: ShownFinding, words: Html): Html;
  /** The state of a circuit whose figures are shown beside the extremes; undefined where there is no choice of one. */
  shown(circuit: CircuitView): StateKey | undefined;
  marked(name: string): boolean;
  /** Whether findings have the numbers that mark them in the drawing beside them. */
  readonly numbered?: boolean;
}

const isShown = (shown: StateKey | undefined, state: StateKey): boolean =>
  shown !== undefined && stateId(shown) === stateId(state);

function stateRow({ state, figures, share, left }: WindingState, shown: StateKey | undefined): Html {
  const here = isShown(shown, state);
  const head = html`<th scope="row">${stateLabel(state)}${here && html` <span class="tag">shown</span>`}</th>`;
  const cells =
    figures.volts === null
      ? html`<td colspan="5" class="reason">${figures.reason ? `no figures: ${figures.reason}` : 'no figures'}</td>`
      : html`<td>${size(figures.volts, 1)}</td><td>${size(figures.amps, 2)}</td><td>${cell(figures.va, 1)}</td><td>${cell(share === null ? null : share * 100, 0)}</td><td>${cell(left, 1)}</td>`;
  return html`<tr${here && html` class="shown"`}>${head}${cells}</tr>`;
}

function winding(view: WindingView, shown: StateKey | undefined, several: boolean, about: string): Html {
  const now = view.states.find(({ state }) => isShown(shown, state))?.share ?? null;
  const rows = view.states.map((state) => stateRow(state, shown));
  const table =
    rows.length > 0 &&
    html`<table class="states-table"><caption class="unseen">${about}, ${view.between}: figures at rest and with each thing pressed</caption><thead><tr><th scope="col">When</th><th scope="col">Volts</th><th scope="col">Amps</th><th scope="col">VA</th><th scope="col">Share&nbsp;%</th><th scope="col">VA&nbsp;left</th></tr></thead><tbody>${rows}</tbody></table>`;
  return html`<div class="winding"><p class="headline"><strong>${view.leftWords}</strong> <span>${upperFirst(view.worstWords)}</span></p>${view.worstShare !== null && loadBar(view, now)}<p class="fine">${several && `${view.between}: `}${view.rating}</p>${table}</div>`;
}

export function supplySection(budget: Budget, supply: BudgetSupply, circuit: CircuitView, surface: Surface): Html {
  const feeds = connected(budget, supply).map(
    ({ name, asks }, index) => html`${index > 0 && ', '}${surface.name(name)}${asks && html` (${asks})`}`,
  );
  const several = supply.windings.length > 1;
  const outputs = supply.windings.map((each) =>
    winding(windingView(each), surface.shown(circuit), several, supply.name),
  );
  return html`<section class="part supply${surface.marked(supply.name) && ' marked'}" id="part-${supply.name}" aria-label="Supply ${supply.name}"><h3>${surface.name(supply.name)} <span class="about">${aboutWords(supply)}</span></h3>${outputs.length > 0 ? outputs : html`<p class="fine">Its type has no output.</p>`}<p class="fine">${feeds.length > 0 ? html`Connected: ${feeds}.` : 'Nothing is connected to it.'}</p></section>`;
}

function shownFigures(view: ElementView, shown: StateKey | undefined): { volts: number | null; words: string } {
  const figures = view.element.solved.find((each) => isShown(shown, each));
  if (figures === undefined || shown === undefined) return { volts: null, words: '' };
  const { on } = figures;
  const state = `${stateLabel(shown)}: `;
  if (figures.volts === null) return { volts: null, words: `${state}no figures` };
  const off = !on && view.element.kind === 'load' ? ', off: too little to stay on' : '';
  const drawn = on ? `, ${amps(figures.amps ?? 0)}, ${voltAmperes(figures.va ?? 0)}` : off;
  return { volts: Math.abs(figures.volts), words: `${state}${volts(figures.volts)}${drawn}` };
}

const isGauged = ({ nominal, extremes, verdict }: ElementView): boolean =>
  nominal !== null && (verdict !== 'unjudged' || extremes !== '');

function element(view: DeviceView, each: ElementView, scale: number, shown: StateKey | undefined): Html {
  const now = shownFigures(each, shown);
  const first = html`<p class="reading"><span class="what">${each.what}</span> <strong class="verdict-${each.verdict}">${each.words}</strong></p>`;
  if (!isGauged(each)) return html`<div class="element">${first}</div>`;
  return html`<div class="element">${first}${voltsGauge(view.device, each, scale, now.volts)}${now.words && html`<p class="now">${now.words}</p>`}<p class="fine">${upperFirst(each.extremes)}${each.extremes && '. '}${upperFirst(each.current)}.</p></div>`;
}

function device(view: DeviceView, scale: number, shown: StateKey | undefined, surface: Surface): Html {
  const { device: part, label } = view;
  const elements = view.elements.map((each) => element(view, each, scale, shown));
  const body = elements.length > 0 ? elements : html`<p class="fine">No wired circuit in it: nothing to compute.</p>`;
  return html`<li class="part device${surface.marked(part.name) && ' marked'}" id="part-${part.name}"><h3>${surface.name(part.name)} <span class="about">${view.about}</span></h3>${label && html`<p class="fine">${upperFirst(label)}</p>`}${body}</li>`;
}

export function deviceSection(circuit: CircuitView, surface: Surface): Html {
  if (circuit.devices.length === 0) return html``;
  const scale = gaugeScale(circuit);
  const shown = surface.shown(circuit);
  return html`<h2>Devices</h2><ul class="devices">${circuit.devices.map((view) => device(view, scale, shown, surface))}</ul>`;
}

function conductorRow(conductor: BudgetConductor, shown: StateKey | undefined): Html {
  const worst = worstDrop(conductor);
  const now = conductor.solved.find((each) => isShown(shown, each));
  const when = worst !== null && worst.dropVolts >= 0.005 && html` <span class="when">${stateWords(worst)}</span>`;
  return html`<tr><th scope="row">${swatch(conductor.colour)}${conductor.colour} <span class="ends">${conductor.from} to ${conductor.to}</span></th><td>${cell(conductor.ohms, 2)}</td><td>${size(worst?.dropVolts, 2)}${when}</td>${shown && html`<td>${size(now?.dropVolts, 2)}</td><td>${size(now?.amps, 2)}</td>`}</tr>`;
}

export function runPart(each: BudgetRun, budget: Budget, circuits: readonly CircuitView[], surface: Surface): Html {
  const circuit =
    each.conductors.map((conductor) => circuitOfConductor(circuits, conductor)).find(Boolean) ?? circuits[0];
  const shown = circuit && surface.shown(circuit);
  const table =
    each.conductors.length > 0 &&
    html`<table class="conductors"><caption class="unseen">${each.name}: its conductors</caption><thead><tr><th scope="col">Conductor</th><th scope="col">Ohms</th><th scope="col">Most V lost</th>${shown && html`<th scope="col">Shown V</th><th scope="col">Shown A</th>`}</tr></thead><tbody>${each.conductors.map((conductor) => conductorRow(conductor, shown))}</tbody></table>`;
  return html`<section class="part run${surface.marked(each.name) && ' marked'}" id="part-${each.name}" aria-label="Run ${each.name}"><h3>${surface.name(each.name)} <span class="about">${each.cable}, ${length(each.lengthMetres, budget.profile)}</span></h3>${table || html`<p class="fine">No conductor of it carries anything.</p>`}</section>`;
}

/** The line side: each branch circuit against its breaker. */
export function branchSection(budget: Budget, surface: Surface): Html {
  const views = branchViews(budget);
  if (views.length === 0) return html``;
  const known = new Set(budget.supplies.map(({ name }) => name));
  const sections = views.map(({ branch, about, headline, rows, counting }) => {
    const cells = rows.map(
      ([what, va, drawn]) =>
        html`<tr><th scope="row">${known.has(what) ? surface.name(what) : what}</th><td>${va}</td><td>${drawn}</td></tr>`,
    );
    const listed =
      rows.length > 0 &&
      html`<table><caption class="unseen">${branch.name}: what it carries</caption><thead><tr><th scope="col">What</th><th scope="col">VA</th><th scope="col">Amps</th></tr></thead><tbody>${cells}</tbody></table>`;
    return html`<section class="part branch${surface.marked(branch.name) && ' marked'}" id="part-${branch.name}" aria-label="${branchHeading(budget)}: ${branch.name}"><h3>${surface.name(branch.name)} <span class="about">${about}</span></h3><p class="headline"><strong>${upperFirst(headline)}</strong></p>${listed}${counting && html`<p class="fine">${upperFirst(counting)}</p>`}</section>`;
  });
  return html`<h2>${branchHeading(budget)}</h2>${sections}<p class="fine">${branchBasis}</p>`;
}

export function runSection(budget: Budget, circuits: readonly CircuitView[], surface: Surface): Html {
  if (budget.runs.length === 0) return html``;
  return html`<h2>Wire</h2>${budget.runs.map((each) => runPart(each, budget, circuits, surface))}`;
}

export function findingSection(findings: readonly ShownFinding[], surface: Surface): Html {
  if (findings.length === 0) return html``;
  let count = 0;
  const items = worstFirst(findings).map((finding) => {
    // As in the drawing: what somebody accepted has no mark.
    const number = surface.numbered === true && !finding.accepted && html`<span class="number">${++count}</span> `;
    const accepted = finding.accepted && html` <span class="fine">${acceptedWords(finding.accepted)}</span>`;
    const words = html`<span class="severity">${severityWords[finding.severity]}</span> <span class="message">${sentence(finding.message)}</span>`;
    return html`<li class="finding ${finding.severity}">${number}${surface.finding(finding, words)} <span class="code">${finding.code}</span>${accepted}</li>`;
  });
  return html`<h2 id="findings">Findings</h2><ul class="findings">${items}</ul>`;
}

export function assumptionSection(budget: Budget): Html {
  const items = budget.assumptions.map((each) => html`<li>${sentence(each)}</li>`);
  const list = items.length > 0 && html`<ul class="assumptions">${items}</ul>`;
  return html`<h2>Assumed</h2>${list || html`<p class="fine">Nothing beyond what the record states.</p>`}<p class="fine">${shareWords}</p>`;
}
