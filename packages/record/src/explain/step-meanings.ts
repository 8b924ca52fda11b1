/** What each outcome of a step would mean, a sentence each. */

import { listOf, quote, withRightArticles } from '../judging/words.js';
import type { Ask } from './asks.js';
import type { Gauge } from './gauge.js';
import type { Group } from './groups.js';
import { ohmLimits } from './practice.js';
import type { Ranked } from './rank.js';
import { outcomeChances } from './signs.js';
import { rounded } from './words.js';

/** No more outcomes than these are told for one step, and no more suspects for one outcome. */
const MOST_OUTCOMES = 4;
const MOST_NAMED = 2;
/** No second suspect is named beyond so many words. */
const MOST_WORDS = 34;
/** Variants with less than this of the likeliest one's belief do not stretch a range. */
const IN_RANGE = 0.15;
/** Figures this near, and this share of them, are told as one; nearer where that leaves a single outcome. */
const NEAR = [
  { volts: 1, ohms: 1, share: 0.08 },
  { volts: 0.4, ohms: 0.7, share: 0.03 },
] as const;
type Near = (typeof NEAR)[number];

interface Outcome {
  readonly subject: string;
  readonly least: number;
  readonly most: number;
  readonly of: 'sign' | 'volts' | 'ohms' | 'open' | 'some';
}

interface Told extends Outcome {
  readonly groups: Group[];
}

/** "About 16 V means the contact of `push` does not close. About 0 V means a wire or joint of `run` is loose or broken." */
export function meanings(gauge: Gauge, ask: Ask, groups: readonly Group[]): string {
  let told: readonly Told[] = [];
  for (const near of NEAR) {
    told = toldOf(gauge, ask, groups, near);
    if (told.length > 1) break;
  }
  // What only tells members of a group apart is told of the members.
  if (told.length < 2) {
    const alone = groups.flatMap(({ members }) => members.map((one) => ({ members: [one], belief: one.belief })));
    const byMember = toldOf(gauge, ask, alone, NEAR[0]);
    if (byMember.length > 1) told = byMember;
  }
  return [...told.slice(0, MOST_OUTCOMES)]
    .sort((x, y) => y.most - x.most)
    .map((one) => sentenceOf(one, told.length > 1))
    .join(' ');
}

function sentenceOf({ subject, groups }: Told, isOneOfSeveral: boolean): string {
  const phrases = [...new Set(groups.map(groupWords))];
  const named = phrases.slice(0, MOST_NAMED);
  while (named.length > 1 && named.join(' ').split(' ').length > MOST_WORDS) named.pop();
  const others = phrases.length - named.length;
  const more = others === 0 ? [] : [others === 1 ? 'one other' : `one of ${others} others`];
  const all = [...named, ...more];
  // Phrases have an "or" of their own: a comma before the last.
  const means = all.length === 1 ? all[0] : `${all.slice(0, -1).join(', ')}, or ${all.at(-1)}`;
  const rest = isOneOfSeveral ? '' : ' Anything else points elsewhere.';
  return withRightArticles(`${subject} means ${means}.${rest}`);
}

/** Outcomes in order of belief, with the groups that make one expect them. */
function toldOf(gauge: Gauge, ask: Ask, groups: readonly Group[], near: Near): readonly Told[] {
  const told: Told[] = [];
  for (const group of groups) {
    const [first] = group.members;
    if (first === undefined) continue;
    const outcome = outcomeOf(gauge, ask, first, near);
    const known = told.find((one) => isSame(one, outcome, near));
    if (known === undefined) told.push({ ...outcome, groups: [group] });
    else known.groups.push(group);
  }
  return told;
}

function isSame(one: Outcome, other: Outcome, near: Near): boolean {
  if (one.of !== other.of) return false;
  if (one.of === 'sign') return one.subject === other.subject;
  return (['least', 'most'] as const).every(
    (end) => Math.abs(one[end] - other[end]) <= widthOf(one.of, one[end], near),
  );
}

function widthOf(of: Outcome['of'], figure: number, near: Near): number {
  return of === 'ohms' ? Math.max(0.4 * figure, near.ohms) : near.volts + near.share * Math.abs(figure);
}

function outcomeOf(gauge: Gauge, ask: Ask, { variants }: Ranked, near: Near): Outcome {
  const [best] = variants;
  const { variant, weighed } = best!;
  if (ask.watched !== undefined) {
    const chances = [...outcomeChances(gauge, variant, ask.watched, weighed.expect)];
    const [key, chance] = chances.reduce((most, one) => (one[1] > most[1] ? one : most));
    return { subject: signWords(key), least: 0, most: chance, of: 'sign' };
  }
  const spot = ask.spot!;
  const { mean, gauged } = weighed.expect(spot);
  if (spot.kind === 'ohms') {
    if (gauged.tells === 'open' || mean > ohmLimits.overRange)
      return { subject: 'OL', least: 1e9, most: 1e9, of: 'open' };
    if (gauged.tells === 'some') return { subject: 'Any figure but OL', least: 1e8, most: 1e8, of: 'some' };
  }
  const of = spot.kind === 'ohms' ? 'ohms' : 'volts';
  const figures = variants
    .filter(({ belief }) => belief > IN_RANGE * best!.belief)
    .map((one) => one.weighed.expect(spot).mean)
    .filter((figure) => of === 'volts' || figure < ohmLimits.someUpTo);
  const least = Math.min(mean, ...figures);
  const most = Math.max(mean, ...figures);
  const unit = spot.kind === 'ohms' ? 'ohm' : spot.kind === 'volts' ? 'V' : 'A';
  if (most - least <= 2 * widthOf(of, least, near)) {
    return { subject: `About ${figureWords(mean)} ${unit}`, least: mean, most: mean, of };
  }
  return { subject: `From ${figureWords(least)} to ${figureWords(most)} ${unit}`, least, most, of };
}

function figureWords(value: number): string {
  const size = Math.abs(value);
  if (size < 0.25) return '0';
  if (size >= 100) return String(Number(value.toPrecision(2)));
  return rounded(size >= 10 ? Math.round(value) : size >= 1 ? Math.round(value * 2) / 2 : Math.round(value * 10) / 10);
}

function signWords(key: string): string {
  const [shows, note] = key.split(':');
  const subject = { silent: 'Silence', rings: 'A ring', hums: 'A hum', lit: 'A light', dark: 'No light' }[shows ?? ''];
  return `${subject ?? shows}${note === undefined ? '' : ` at ${note}`}`;
}

/** What a group is about: by its likeliest member, or by the runs that a wire of may be open anywhere in. */
function groupWords({ members }: Group): string {
  const faults = members.flatMap(({ hypothesis }) => hypothesis ?? []);
  if (faults.length < members.length) return 'the house is as recorded';
  const isWiring = faults.every(({ kinds }) =>
    kinds.every((kind) => kind === 'joint-loose' || kind === 'conductor-open'),
  );
  const runs = [...new Set(faults.map(({ parts }) => parts[0]!))];
  if (!isWiring || faults.length === 1) return shortly(faults[0]!.what);
  const where = runs.length > 2 ? `${runs.slice(0, 2).map(quote).join(', ')} or beyond` : listOf(runs.map(quote), 'or');
  return `a wire or joint of ${where} is loose or broken`;
}

/** What is wrong without its reasons. */
function shortly(what: string): string {
  return what
    .replace(/(the (?:\w+ )?coil of `[^`]+`) gets its volts, but its plunger is stuck/g, 'the plunger of $1 is stuck')
    .replace(/: [^:,`]*(?:, [^:`]*)?$/, '')
    .replace(/, not what the record says/g, '');
}
