/** The next thing to do: what tells most for the trouble it is. */

import { type Ask, effortOf, type Standing } from './asks.js';
import type { Gauge } from './gauge.js';
import type { Group } from './groups.js';
import type { House } from './house.js';
import { bitsOf } from './outcomes.js';
import { leastBits, ohmLimits } from './practice.js';
import { liveAs, SOUND } from './operate.js';
import type { Ranked } from './rank.js';
import { outcomeChances, signallingOf } from './signs.js';
import type { NextStep } from './types.js';
import { listOf, quote } from '../judging/words.js';
import { isPushName, placeOfContact } from './asks.js';
import { askedWords, pointWords, rounded, stateInWords } from './words.js';

/** How much trouble counts against what is told: at 1 a step of twice the trouble has to tell twice as much. */
const TROUBLE = 0.5;
/** No more meanings than these are told for one step, and no more suspects for one meaning. */
const MOST_MEANINGS = 4;
const MOST_NAMED = 2;

export function nextStep(
  gauge: Gauge,
  asks: readonly Ask[],
  ranked: readonly Ranked[],
  groups: readonly Group[],
  standing: Standing,
): NextStep | null {
  let best: { readonly ask: Ask; readonly score: number; readonly effort: number } | undefined;
  for (const ask of asks) {
    const bits = bitsOf(gauge, ask, ranked);
    if (bits < leastBits) continue;
    const effort = effortOf(ask, standing);
    const score = bits / effort ** TROUBLE;
    if (best === undefined || score > best.score * (1 + 1e-9)) best = { ask, score, effort };
  }
  if (best === undefined) return null;
  return inWords(gauge, best.ask, groups, best.effort);
}

function inWords(gauge: Gauge, ask: Ask, groups: readonly Group[], effort: number): NextStep {
  const { house } = gauge.operation;
  const { state, of } = ask.asked;
  const tells = meanings(gauge, ask, groups);
  const between =
    of.kind === 'sign'
      ? [quote(of.part)]
      : of.kind === 'mains'
        ? ['the mains']
        : of.between.map((point) => pointWords(house, point));
  return {
    state: stateInWords(house, state),
    between,
    tells,
    words: `${capital(doing(gauge, ask))}: ${tells}`,
    asked: ask.asked,
    effort,
  };
}

function doing(gauge: Gauge, { asked, watched }: Ask): string {
  const { house } = gauge.operation;
  const { state, of } = asked;
  if (state.kind === 'off')
    return `lift the supply's lead, and read ohms ${askedWords(house, asked).replace(/ with the supplies.*$/, '')}`;
  const bridged = state.bridged?.[0];
  if (bridged !== undefined) {
    const dead = deadShortAmps(gauge, bridged);
    const warn =
      dead === undefined
        ? ''
        : ` (no chime is in between: this shorts the supply, about ${rounded(dead)} A; touch them together, no longer)`;
    return `hold the two wires at ${quote(bridged)} together${warn} and ${of.kind === 'sign' ? `listen to ${quote(of.part)}` : 'read'}`;
  }
  const held = state.pressed[0];
  const by =
    held === undefined
      ? ''
      : isPushName(house, held)
        ? `hold ${quote(held)} and `
        : `let ${quote(held.split('.')[0]!)} ring and `;
  if (of.kind !== 'sign') {
    return `${by}read ${of.kind === 'mains' ? 'the mains' : `across ${of.between.map((point) => pointWords(house, point)).join(' and ')}`}${held === undefined ? ', everything at rest' : ''}`;
  }
  const isHeard = watched !== undefined && signallingOf(house, watched.part).heard.length > 0;
  return `${by}${isHeard ? 'listen to' : 'look at'} ${quote(of.part)}${held === undefined ? ', everything at rest' : ''}`;
}

/** Amps of the supply where the two wires at a push are held together and nothing but wire is in the loop. */
function deadShortAmps(gauge: Gauge, contact: string): number | undefined {
  const { operation } = gauge;
  const { house } = operation;
  for (const [branch, { kind, emf, ohms, reactance, element }] of house.branches.entries()) {
    if (kind !== 'winding') continue;
    const { operating, own } = operation.of(SOUND, liveAs([], [contact]), branch);
    const size = operating.amps(own);
    const short = Math.hypot(emf.re, emf.im) / Math.hypot(ohms, reactance);
    if (size > 0.6 * short && size > 1.5 * (element?.ratedAmps ?? Number.POSITIVE_INFINITY)) return size;
  }
  return undefined;
}

/** What each outcome would mean: "about 15 V means the contact of `x` does not close; about 0 V means …". */
function meanings(gauge: Gauge, ask: Ask, groups: readonly Group[]): string {
  const told = new Map<string, { readonly order: number; readonly belief: number; readonly names: string[] }>();
  for (const group of groups) {
    const [first] = group.members;
    if (first === undefined) continue;
    const { label, order } = outcomeOf(gauge, ask, first, told);
    const known = told.get(label) ?? { order, belief: group.belief, names: [] };
    told.set(label, known);
    known.names.push(first.hypothesis?.what ?? 'the house is as recorded');
  }
  const list = [...told].slice(0, MOST_MEANINGS).sort((x, y) => y[1].order - x[1].order);
  return list
    .map(([label, { names }]) => {
      const more = names.length > MOST_NAMED ? [`${names.length - MOST_NAMED} more`] : [];
      return `${label} means ${listOf([...names.slice(0, MOST_NAMED), ...more], 'or')}`;
    })
    .join('; ');
}

const NEAR_VOLTS = 1;

function outcomeOf(
  gauge: Gauge,
  ask: Ask,
  { variants }: Ranked,
  told: ReadonlyMap<string, { readonly order: number }>,
): { readonly label: string; readonly order: number } {
  const { variant, weighed } = variants[0]!;
  if (ask.watched !== undefined) {
    const chances = [...outcomeChances(gauge, variant, ask.watched, weighed.expect)];
    const [key, chance] = chances.reduce((most, one) => (one[1] > most[1] ? one : most));
    const [shows, note] = key.split(':');
    return { label: note === undefined ? `"${shows}"` : `"${shows}" (${note})`, order: chance };
  }
  const { mean, gauged } = weighed.expect(ask.spot!);
  if (ask.spot!.kind === 'ohms') {
    if (gauged.tells === 'open' || mean > ohmLimits.overRange) return { label: 'OL', order: 1e9 };
    if (gauged.tells === 'some') return { label: 'some ohms', order: 1e8 };
    return nearest(mean, Math.max(0.4 * mean, 1), 'ohm', told);
  }
  return nearest(mean, NEAR_VOLTS + 0.08 * Math.abs(mean), ask.spot!.kind === 'volts' ? 'V' : 'A', told);
}

/** Figures near one that is told already are told with it. */
function nearest(
  mean: number,
  width: number,
  unit: string,
  told: ReadonlyMap<string, { readonly order: number }>,
): { readonly label: string; readonly order: number } {
  for (const [label, { order }] of told) if (Math.abs(order - mean) <= width) return { label, order };
  const figure = Math.abs(mean) < 0.05 ? '0' : rounded(Math.abs(mean) >= 10 ? Math.round(mean) : mean);
  return { label: `about ${figure} ${unit}`, order: mean };
}

function capital(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}

/** Where the last reading leaves one, and what is open by then. */
export function standingOf(
  house: House,
  taken: readonly { readonly reading: { readonly state: unknown; readonly of: unknown } }[],
  placeOf: (of: unknown) => string | undefined,
): Standing {
  const opened = new Set<string>();
  let place: string | undefined;
  let lifted = false;
  for (const { reading } of taken) {
    const { state, of } = reading as {
      state: { kind: string; pressed?: readonly string[]; bridged?: readonly string[] };
      of: { kind: string; between?: readonly { kind: string; end?: { part: string } }[] };
    };
    lifted = state.kind === 'off';
    for (const name of state.bridged ?? []) opened.add(name.split('.')[0]!);
    for (const point of of.between ?? []) if (point.end !== undefined) opened.add(point.end.part);
    const held = state.bridged?.[0] ?? (of.kind === 'sign' ? state.pressed?.[0] : undefined);
    place = held === undefined ? (placeOf(of) ?? place) : placeOfContact(house, held);
  }
  return { place, opened, lifted };
}
