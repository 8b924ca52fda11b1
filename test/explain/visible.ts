/** Whether anything that can be read at terminals, seen or heard differs from what some sound house of that record would show. */

import { type Analysis, pointOf } from '../../packages/record/src/index.js';
import type { Draws } from './draws.js';
import { drawsFrom } from './draws.js';
import { HiddenHouse } from './hidden-house.js';
import { lineSide } from './true-faults.js';

type States = readonly { readonly pressed: readonly string[]; readonly bridged: readonly string[] }[];

export interface SoundHouses {
  readonly pairs: readonly (readonly [string, string])[];
  readonly states: States;
  readonly watched: readonly string[];
  readonly volts: readonly { readonly least: number; readonly most: number }[];
  readonly ohms: readonly { readonly least: number; readonly most: number }[];
  readonly signs: readonly ReadonlySet<string>[];
}

const HOUSES = 16;
const OVER_RANGE = 2e7;

export function soundHouses(analysis: Analysis, seed: number): SoundHouses {
  const pairs = pairsOf(analysis);
  const contacts = [...new Set([...analysis.elements.values()].flatMap(({ contact }) => contact ?? []))];
  const states: States = [{ pressed: [], bridged: [] }, ...contacts.map((name) => ({ pressed: [name], bridged: [] }))];
  const watched = [...analysis.parts.values()]
    .filter(({ elements }) => elements.some(({ element }) => ['coil', 'load', 'lamp'].includes(element.kind)))
    .map(({ name }) => name);
  const frame = { pairs, states, watched };
  const seen = Array.from({ length: HOUSES }, (_, k) => look(new HiddenHouse(analysis, drawsFrom(seed + k)), frame));
  const rangeOf = (of: 'volts' | 'ohms') =>
    seen[0]![of].map((_, k) => {
      const values = seen.map((one) => one[of][k]!);
      return { least: Math.min(...values), most: Math.max(...values) };
    });
  return {
    ...frame,
    volts: rangeOf('volts'),
    ohms: rangeOf('ohms'),
    signs: seen[0]!.signs.map((_, k) => new Set(seen.map(({ signs }) => signs[k]!))),
  };
}

/** A figure within the sound houses' range and the meter's band, and a sign that one of them gives, show nothing. */
export function isVisible(house: HiddenHouse, sound: SoundHouses): boolean {
  const { volts, ohms, signs } = look(house, sound);
  const isOut = (value: number, { least, most }: { least: number; most: number }, step: number): boolean =>
    value < least - 0.02 * least - step || value > most + 0.02 * most + step;
  return (
    volts.some((value, k) => isOut(value, sound.volts[k]!, 0.3)) ||
    ohms.some((value, k) => isOut(value, sound.ohms[k]!, 0.6)) ||
    signs.some((sign, k) => !sound.signs[k]!.has(sign))
  );
}

function look(house: HiddenHouse, { pairs, states, watched }: Pick<SoundHouses, 'pairs' | 'states' | 'watched'>) {
  return {
    volts: states.flatMap(({ pressed, bridged }) =>
      pairs.map(([a, b]) => Math.abs(house.volts(a, b, pressed, bridged).value)),
    ),
    ohms: pairs.map(([a, b]) => Math.min(house.ohms(a, b), OVER_RANGE)),
    signs: states.flatMap(({ pressed, bridged }) =>
      watched.map((part) => {
        const { shows, note = '' } = house.sign(part, pressed, bridged);
        return `${shows} ${note}`;
      }),
    ),
  };
}

/** Wired terminals and splices of one place, two by two. */
function pairsOf(analysis: Analysis): readonly (readonly [string, string])[] {
  const lines = lineSide(analysis);
  const byPlace = new Map<string, string[]>();
  const put = (place: string, point: string): void => {
    if (analysis.landedOn(point).length > 0 && !lines.has(point))
      byPlace.set(place, [...(byPlace.get(place) ?? []), point]);
  };
  for (const part of analysis.parts.values()) {
    for (const { name } of part.terminals)
      put(part.place?.name ?? part.name, pointOf({ part: part.name, terminal: name }));
  }
  for (const { name, place } of analysis.installation.splices) put(place ?? name, name);
  return [...byPlace.values()].flatMap((points) =>
    points.flatMap((a, k) => points.slice(k + 1).map((b) => [a, b] as const)),
  );
}

export function pick<T>(draws: Draws, list: readonly T[], count: number): readonly T[] {
  const rest = [...list];
  const picked: T[] = [];
  while (picked.length < count && rest.length > 0)
    picked.push(...rest.splice(Math.floor(draws.next() * rest.length), 1));
  return picked;
}
