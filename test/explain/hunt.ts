/** Takes the steps that the finder asks for, one by one, in a hidden house. */

import { type Analysis, type Explanation, explain, type Reading } from '../../packages/record/src/index.js';
import type { HiddenHouse } from './hidden-house.js';

export interface Hunt {
  readonly readings: readonly Reading[];
  readonly last: Explanation;
  /** The truth was called excluded at some step. */
  readonly wasExcluded: boolean;
  /** By what, the first time: what was expected and what was read. */
  readonly excludedBy: string | undefined;
  /** Of the truth's group among groups, from 1; undefined where it is not listed. */
  readonly place: number | undefined;
  readonly effort: number;
}

export const MOST_STEPS = 15;
const SOUND = 'the house is as recorded';

export function withReadings(analysis: Analysis, readings: readonly Reading[]): Analysis {
  const installation = { ...analysis.installation, readings: [{ on: '2026-11-20', notes: [], readings }] };
  const { parts, runs, jumpers, elements, circuits, assumptions, momentary } = analysis;
  return {
    installation,
    parts,
    runs,
    jumpers,
    elements,
    circuits,
    assumptions,
    momentary,
    network: (condition) => analysis.network(condition),
    circuitOfElement: (id) => analysis.circuitOfElement(id),
    circuitsOfPart: (name) => analysis.circuitsOfPart(name),
    landedOn: (point) => analysis.landedOn(point),
  };
}

/** `truth` is the fault's id, or undefined for a sound house. */
export function hunt(analysis: Analysis, house: HiddenHouse, truth: string | undefined): Hunt {
  const readings: Reading[] = [];
  let excludedBy: string | undefined;
  let effort = 0;
  for (;;) {
    const last = explain(withReadings(analysis, readings), { mostFaults: 400, mostExcluded: 400 });
    const excluded = last.excluded.find(({ id }) => id === truth);
    if (excluded !== undefined) excludedBy ??= `${excluded.by}; ${JSON.stringify(readings[excluded.index])}`;
    if (last.next === null || readings.length >= MOST_STEPS) {
      const wasExcluded = excludedBy !== undefined;
      return { readings, last, wasExcluded, excludedBy, effort, place: placeOf(last, truth) };
    }
    effort += last.next.effort;
    readings.push(house.answer(last.next.asked));
  }
}

/** Groups count as one; a sound house is a group of its own where it is called healthy. */
export function placeOf({ faults, healthy }: Explanation, truth: string | undefined): number | undefined {
  if (truth === undefined) return healthy ? 1 : undefined;
  const told = new Set(healthy ? faults.filter(({ sameAs }) => sameAs.includes(SOUND)).map(({ what }) => what) : []);
  let place = healthy ? 1 : 0;
  for (const { id, what, sameAs } of faults) {
    if (!told.has(what)) place++;
    for (const other of sameAs) told.add(other);
    told.add(what);
    if (id !== truth) continue;
    return healthy && sameAs.includes(SOUND) ? 1 : place;
  }
  return undefined;
}
