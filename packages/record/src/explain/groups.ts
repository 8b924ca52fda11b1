/** Which hypotheses nothing tells apart that can be read at terminals, seen or heard. */

import type { Ask } from './asks.js';
import type { Gauge } from './gauge.js';
import { ohmLimits, sureFrom, sureOfThreeFrom, sureSoundFrom } from './practice.js';
import type { Ranked } from './rank.js';
import { outcomeChances } from './signs.js';

/** Two chances of a sign further apart than this can be told apart. */
const CHANCES_APART = 0.35;

interface Signature {
  readonly value: number;
  readonly width: number;
}

export interface Group {
  /** Likeliest first. */
  readonly members: readonly Ranked[];
  readonly belief: number;
}

/** In order of belief; `asks` are what could be read. */
export function groupsOf(gauge: Gauge, ranked: readonly Ranked[], asks: readonly Ask[]): readonly Group[] {
  const groups: { members: Ranked[]; belief: number; signatures: readonly Signature[] }[] = [];
  for (const one of ranked) {
    const signatures = asks.flatMap((ask) => signatureOf(gauge, one, ask));
    const alike = groups.find((group) => areAlike(group.signatures, signatures));
    if (alike === undefined) groups.push({ members: [one], belief: one.belief, signatures });
    else {
      alike.members.push(one);
      alike.belief += one.belief;
    }
  }
  return groups.sort((x, y) => y.belief - x.belief);
}

/** Whether nothing more needs to be measured; `isSound` tells that the first group has the sound house in it. */
export function isSettled(groups: readonly Group[], isSound: boolean): boolean {
  const [first, second, third] = groups.map(({ belief }) => belief);
  if (first === undefined) return false;
  if (isSound) return first >= sureSoundFrom;
  return first >= sureFrom && first + (second ?? 0) + (third ?? 0) >= sureOfThreeFrom;
}

function signatureOf(gauge: Gauge, { variants }: Ranked, ask: Ask): readonly Signature[] {
  const [best] = variants;
  if (best === undefined) return [];
  if (ask.watched !== undefined) {
    const chances = outcomeChances(gauge, best.variant, ask.watched, best.weighed.expect);
    return [...chances.values()].map((value) => ({ value: value * 100, width: CHANCES_APART * 50 }));
  }
  const gauged = gauge.gauge(best.variant, ask.spot!);
  if (gauged.tells === 'open' || gauged.tells === 'some')
    return [{ value: gauged.tells === 'open' ? 1e9 : 1e8, width: 0 }];
  const own = Math.abs(gauged.gradient[gauged.gradient.length - 1]!);
  const value = ask.spot!.kind === 'ohms' && gauged.value > ohmLimits.overRange ? 1e9 : gauged.value;
  return [{ value, width: gauged.meter + own }];
}

function areAlike(one: readonly Signature[], other: readonly Signature[]): boolean {
  return (
    one.length === other.length &&
    one.every(({ value, width }, k) => Math.abs(value - other[k]!.value) <= width + other[k]!.width)
  );
}
