/** The next thing to do: what tells most for the trouble it is. */

import { partNameOf } from '../analysis-types.js';
import { type Ask, effortOf, placeOfContact, type Standing } from './asks.js';
import type { Gauge } from './gauge.js';
import type { Group } from './groups.js';
import type { House } from './house.js';
import { bitsOf } from './outcomes.js';
import { leastBits } from './practice.js';
import type { Ranked } from './rank.js';
import { shortedBy } from './shorts.js';
import { meanings } from './step-meanings.js';
import { doing } from './step-words.js';
import type { NextStep } from './types.js';
import { quote } from '../judging/words.js';
import { pointWords, stateInWords } from './words.js';

/** How much trouble counts against what is told: at 1 a step of twice the trouble has to tell twice as much. */
const TROUBLE = 0.15;
/** Before anything is read one looks and listens, where that tells so many bits. */
const LOOK_FIRST = 0.2;
/** So much more a look like that counts then: ahead of all that is measured. */
const AHEAD = 1000;

export function nextStep(
  gauge: Gauge,
  asks: readonly Ask[],
  ranked: readonly Ranked[],
  groups: readonly Group[],
  standing: Standing,
): NextStep | null {
  const suspects = suspectsOf(ranked, groups);
  const isFirst = standing.place === undefined;
  let best: { readonly ask: Ask; readonly score: number; readonly effort: number } | undefined;
  for (const ask of asks) {
    const bridged = ask.asked.state.kind === 'live' ? ask.asked.state.bridged?.[0] : undefined;
    // What would only short the supply is not asked of anybody.
    if (bridged !== undefined && shortedBy(gauge, bridged) !== undefined) continue;
    const bits = bitsOf(gauge, ask, suspects);
    if (bits < leastBits) continue;
    const effort = effortOf(ask, standing);
    const isLook = isFirst && ask.watched !== undefined && ask.opens === undefined && bits >= LOOK_FIRST;
    const score = (isLook ? AHEAD : 1) * (bits / effort ** TROUBLE);
    if (best === undefined || score > best.score * (1 + 1e-9)) best = { ask, score, effort };
  }
  if (best === undefined) return null;
  const { ask, effort } = best;
  const { house } = gauge.operation;
  const { state, of } = ask.asked;
  const tells = meanings(gauge, ask, groups);
  return {
    state: stateInWords(house, state),
    between: betweenOf(house, of),
    tells,
    words: `${doing(gauge, ask, groups, standing)} ${tells}`,
    asked: ask.asked,
    effort,
  };
}

function betweenOf(house: House, of: Ask['asked']['of']): readonly string[] {
  if (of.kind === 'sign') return [quote(of.part)];
  return of.kind === 'mains' ? ['the mains'] : of.between.map((point) => pointWords(house, point));
}

/** What is to be told apart: groups, and those in none. Which of a group it is, no reading at terminals tells. */
function suspectsOf(ranked: readonly Ranked[], groups: readonly Group[]): readonly Ranked[] {
  const shown = new Map(ranked.map((one) => [one.hypothesis, one]));
  const grouped = groups.flatMap(({ members }): Ranked[] => {
    const found = members.flatMap(({ hypothesis }) => shown.get(hypothesis) ?? []);
    for (const { hypothesis } of members) shown.delete(hypothesis);
    if (found.length === 0) return [];
    const belief = found.reduce((sum, one) => sum + one.belief, 0);
    return [{ ...found[0]!, belief, variants: found.flatMap(({ variants }) => variants) }];
  });
  return [...grouped, ...shown.values()];
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
    for (const name of state.bridged ?? []) opened.add(partNameOf(name));
    for (const point of of.between ?? []) if (point.end !== undefined) opened.add(point.end.part);
    const held = state.bridged?.[0] ?? (of.kind === 'sign' ? state.pressed?.[0] : undefined);
    place = held === undefined ? (placeOf(of) ?? place) : placeOfContact(house, held);
  }
  return { place, opened, lifted };
}
