/** Boxes that a plan takes out: their bonds go with them, and nothing may be left in them. */

import { quote } from '../judging/words.js';
import type { Installation } from '../model.js';
import { compare } from '../resolve/parts.js';
import type { PlanProblem } from './types.js';

/** `removed`: by name, the statement that takes it out. What stands in a box that is gone is known to be nowhere. */
export function withoutBoxes(
  installation: Installation,
  removed: ReadonlyMap<string, number>,
): { readonly installation: Installation; readonly problems: readonly PlanProblem[] } {
  const gone = new Map(
    (installation.boxes ?? []).flatMap(({ name }) => {
      const statement = removed.get(name);
      return statement === undefined ? [] : [[name, statement] as const];
    }),
  );
  if (gone.size === 0) return { installation, problems: [] };
  const left = new Map<string, string[]>();
  /** The place, unless it is a box that is gone. */
  const still = (place: string | undefined, words: string): string | undefined => {
    if (place === undefined || !gone.has(place)) return place;
    left.set(place, [...(left.get(place) ?? []), words]);
    return undefined;
  };
  const standing = <T extends { readonly name: string; readonly place?: string }>({ place, ...one }: T): T => {
    const where = still(place, quote(one.name));
    return { ...one, ...(where === undefined ? {} : { place: where }) } as unknown as T;
  };
  const runs = installation.runs.map(({ fromPlace, toPlace, ...run }) => {
    const from = still(fromPlace, `an end of ${quote(run.name)}`);
    const to = still(toPlace, `an end of ${quote(run.name)}`);
    return { ...run, ...(from === undefined ? {} : { fromPlace: from }), ...(to === undefined ? {} : { toPlace: to }) };
  });
  const boxes = installation.boxes?.filter(({ name }) => !gone.has(name)) ?? [];
  const grounds = installation.grounds?.filter(({ box }) => !gone.has(box)) ?? [];
  const { boxes: _boxes, grounds: _grounds, ...rest } = installation;
  return {
    installation: {
      ...rest,
      ...(boxes.length > 0 ? { boxes } : {}),
      ...(grounds.length > 0 ? { grounds } : {}),
      places: installation.places.filter(({ name }) => !gone.has(name)),
      supplies: installation.supplies.map(standing),
      devices: installation.devices.map(standing),
      splices: installation.splices.map(standing),
      runs,
    },
    problems: [...left].map(([box, words]) => ({
      code: 'plan-left-hanging',
      facts: { part: box, ends: [...new Set(words)].sort(compare), isBox: true },
      at: { statement: gone.get(box)! },
      related: [],
    })),
  };
}
