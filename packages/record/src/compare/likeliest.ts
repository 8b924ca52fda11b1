/** Pairs of things of which most of the wiring is the same: one part in another's place. */

import { type Group, putUnder } from '../grouped.js';
import type { Installation, Run } from '../model.js';
import { compare } from '../resolve/parts.js';
import { type Match, pointAs, type Side } from './match.js';

/** Of what either has landed on it, this much must be on both. */
const LEAST_SHARED = 0.5;

type Wires = ReadonlyMap<string, ReadonlySet<string>>;

/** Those that share most first; runs only where no more parts are found, since these tell where runs go. */
export function likeliest(old: Side, now: Side, match: Match): Match {
  const newRuns = new Set(match.runs.values());
  const kinds = new Map([...old.left.parts, ...now.left.parts].map(({ name, kind }) => [name, kind]));
  const parts = best(
    landedOn(old, (run) => match.runs.get(run)),
    landedOn(now, (run) => (newRuns.has(run) ? run : undefined)),
    (one, other) => kinds.get(one) === kinds.get(other),
  );
  if (parts.size > 0) return { parts, runs: new Map() };
  const newParts = new Set(match.parts.values());
  const runs = best(
    endsOf(old.left.runs, (name) => match.parts.get(name)),
    endsOf(now.left.runs, (name) => (newParts.has(name) ? name : undefined)),
    () => true,
  );
  return { parts: new Map(), runs };
}

function best(before: Wires, after: Wires, fits: (one: string, other: string) => boolean): ReadonlyMap<string, string> {
  const withWire = new Map<string, Group<string>>();
  for (const [name, wires] of after) for (const wire of wires) putUnder(withWire, wire, name);
  const candidates: { readonly one: string; readonly other: string; readonly score: number; readonly key: string }[] =
    [];
  for (const [one, wires] of before) {
    const others = new Set([...wires].flatMap((wire) => withWire.get(wire) ?? []));
    for (const other of others) {
      const score = shared(wires, after.get(other)!);
      const key = [one, other].sort(compare).join(' ');
      if (score >= LEAST_SHARED && fits(one, other)) candidates.push({ one, other, score, key });
    }
  }
  candidates.sort((a, b) => b.score - a.score || compare(a.key, b.key));
  const found = new Map<string, string>();
  const taken = new Set<string>();
  for (const { one, other } of candidates) {
    if (found.has(one) || taken.has(other)) continue;
    found.set(one, other);
    taken.add(other);
  }
  return found;
}

/** Jaccard's measure. */
function shared(one: ReadonlySet<string>, other: ReadonlySet<string>): number {
  const both = [...one].filter((key) => other.has(key)).length;
  return both / (one.size + other.size - both);
}

/** Conductors on each part that is left, by runs that are in both records. */
function landedOn({ installation, left }: Side, runIs: (name: string) => string | undefined): Wires {
  const landed = new Map(left.parts.map(({ name }) => [name, new Set<string>()]));
  for (const [run, conductor, part] of endsIn(installation)) {
    const same = runIs(run);
    if (same !== undefined) landed.get(part)?.add(`${same} ${conductor}`);
  }
  return new Map([...landed].filter(([, wires]) => wires.size > 0));
}

function* endsIn({ runs }: Installation): Generator<readonly [string, string, string]> {
  for (const { name, conductors } of runs) {
    for (const { colour, from, to, spare } of conductors) {
      for (const one of spare ? [] : [from, to]) if (one?.kind === 'on') yield [name, colour, one.end.part];
    }
  }
}

function endsOf(runs: readonly Run[], partIs: (name: string) => string | undefined): Wires {
  const ends = runs.map(({ name, conductors }) => {
    const points = conductors.flatMap(({ colour, from, to, spare }) =>
      (spare ? [] : [from, to]).flatMap((one) => {
        if (one?.kind !== 'on' || partIs(one.end.part) === undefined) return [];
        return [`${colour} ${pointAs(one, (part) => partIs(part)!)}`];
      }),
    );
    return [name, new Set(points)] as const;
  });
  return new Map(ends.filter(([, points]) => points.size > 0));
}
