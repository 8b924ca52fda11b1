/** Conductors, jumpers and leads that are landed otherwise. */

import { grouped } from '../grouped.js';
import { pointOf } from '../analysis-types.js';
import type { Conductor, Jumper, Landing, Part, Run } from '../model.js';
import { compare } from '../resolve/parts.js';
import { sameColour } from '../judging/colours.js';
import { type ComparedRecords, type Couple, pairOf } from './context.js';
import type { ConductorDifference, JumperDifference, LeadDifference, Pair } from './types.js';

interface EndPair {
  readonly before: Landing | undefined;
  readonly after: Landing | undefined;
}

/** Ends in order of run, colour and terminal. */
export function conductorDifferences(records: ComparedRecords): readonly ConductorDifference[] {
  const replaced = replacedNames(records);
  const found = records.runs.flatMap((couple) => {
    const run = pairOf(couple, (one: Run) => one.name);
    return conductorCouples(couple).flatMap(({ colour, before, after }) =>
      endPairs(records, before, after).flatMap((ends) => {
        const difference = endDifference(records, replaced, ends);
        return difference ? [{ run, colour, ...difference }] : [];
      }),
    );
  });
  const key = ({ run, colour, before, after }: ConductorDifference): string =>
    [...[run.before ?? run.after, run.after ?? run.before].sort(), colour, ...[before ?? '', after ?? ''].sort()].join(
      ' ',
    );
  return found.sort((one, other) => compare(key(one), key(other)));
}

/** By colour; of several of one colour in order. */
export function conductorCouples({
  before,
  after,
}: Couple<Run>): readonly (Couple<Conductor> & { readonly colour: string })[] {
  const left = [...(after?.conductors ?? [])];
  const couples: (Couple<Conductor> & { readonly colour: string })[] = [];
  for (const conductor of before?.conductors ?? []) {
    const index = left.findIndex(({ colour }) => sameColour(colour, conductor.colour));
    const other = index < 0 ? undefined : left.splice(index, 1)[0];
    couples.push({ colour: conductor.colour, before: conductor, after: other });
  }
  for (const conductor of left) couples.push({ colour: conductor.colour, before: undefined, after: conductor });
  return couples;
}

/** Which end is which: a conductor told from its other end is the same one. */
export function endPairs(
  records: ComparedRecords,
  before: Conductor | undefined,
  after: Conductor | undefined,
): readonly EndPair[] {
  const [from, to] = landingsOf(before);
  const [nowFrom, nowTo] = landingsOf(after);
  const straight: EndPair[] = [
    { before: from, after: nowFrom },
    { before: to, after: nowTo },
  ];
  const crossed: EndPair[] = [
    { before: from, after: nowTo },
    { before: to, after: nowFrom },
  ];
  const changed = (pairs: readonly EndPair[]): number => pairs.filter((pair) => !isSameEnd(records, pair)).length;
  return changed(crossed) < changed(straight) ? crossed : straight;
}

function landingsOf(conductor: Conductor | undefined): readonly (Landing | undefined)[] {
  if (conductor === undefined || conductor.spare) return [undefined, undefined];
  return [conductor.from, conductor.to];
}

export function isSameEnd(records: ComparedRecords, { before, after }: EndPair): boolean {
  if (before?.kind === 'on' && after?.kind === 'on') return records.carried(before.end) === pointOf(after.end);
  return (before?.kind ?? 'off') === (after?.kind ?? 'off');
}

/** Parts that stand in another one's place under another name: a wire that stays with them is on another screw. */
function replacedNames({ parts }: ComparedRecords): ReadonlySet<string> {
  return new Set(
    parts.flatMap(({ before, after }) => {
      if (!before || !after || before.kind === 'splice' || after.kind === 'splice') return [];
      const isOther = before.part.name !== after.part.name && before.part.type !== after.part.type;
      return isOther ? [after.part.name] : [];
    }),
  );
}

function endDifference(
  records: ComparedRecords,
  replaced: ReadonlySet<string>,
  ends: EndPair,
): Pick<ConductorDifference, 'change' | 'before' | 'after'> | undefined {
  const { before, after } = ends;
  const words = { before: landingWords(before), after: landingWords(after) };
  if (before?.kind === 'on' && after?.kind === 'on') {
    const moved = !isSameEnd(records, ends) || replaced.has(after.end.part);
    return moved ? { change: 'moved', ...words } : undefined;
  }
  if (isSameEnd(records, ends)) return undefined;
  if (after?.kind === 'on') return { change: before?.kind === 'unknown' ? 'restated' : 'landed', ...words };
  if (before?.kind === 'on') return { change: after?.kind === 'unknown' ? 'restated' : 'lifted', ...words };
  // A spare end that is called capped is the same end.
  const isOff = before?.kind !== 'unknown' && after?.kind !== 'unknown';
  return isOff ? undefined : { change: 'restated', ...words };
}

function landingWords(landing: Landing | undefined): string | null {
  if (landing === undefined) return null;
  return landing.kind === 'on' ? pointOf(landing.end) : landing.kind;
}

export function jumperDifferences(records: ComparedRecords): readonly JumperDifference[] {
  const { jumpers } = jumperCouples(records);
  const found = jumpers.flatMap(({ before, after }): readonly JumperDifference[] => {
    const pair: Pair<{ name: string | null; from: string; to: string }> = {
      before: before ? endsOf(before) : null,
      after: after ? endsOf(after) : null,
    };
    const kind = (before ?? after)!.kind;
    if (!before) return [{ kind, change: 'added', ...pair }];
    if (!after) return [{ kind, change: 'removed', ...pair }];
    return (pair.before?.name ?? null) === (pair.after?.name ?? null) ? [] : [{ kind, change: 'renamed', ...pair }];
  });
  const key = ({ before, after }: JumperDifference): string =>
    JSON.stringify([before, after].filter((one) => one).sort());
  return found.sort((one, other) => compare(key(one), key(other)));
}

function endsOf({ name, named, from, to }: Jumper): { name: string | null; from: string; to: string } {
  return { name: named ? name : null, from: pointOf(from), to: pointOf(to) };
}

/** Jumpers by their kind and ends, whichever way round; old names to new ones with them. */
export function jumperCouples(records: ComparedRecords): {
  readonly jumpers: readonly Couple<Jumper>[];
  readonly names: ReadonlyMap<string, string>;
} {
  const keyOf = (kind: string, ends: readonly string[]): string => `${kind} ${[...ends].sort(compare).join(' ')}`;
  const now = [...records.after.installation.jumpers].sort((a, b) => compare(a.name, b.name));
  const left: Map<string, Jumper[]> = grouped(now, ({ kind, from, to }) => keyOf(kind, [pointOf(from), pointOf(to)]));
  const jumpers: Couple<Jumper>[] = [];
  const names = new Map<string, string>();
  for (const jumper of [...records.before.installation.jumpers].sort((a, b) => compare(a.name, b.name))) {
    const alike = left.get(keyOf(jumper.kind, [records.carried(jumper.from), records.carried(jumper.to)])) ?? [];
    const index = Math.max(
      0,
      alike.findIndex(({ name }) => name === jumper.name),
    );
    const other = alike.splice(index, 1)[0];
    jumpers.push({ before: jumper, after: other });
    if (other) names.set(jumper.name, other.name);
  }
  for (const alike of left.values()) for (const after of alike) jumpers.push({ before: undefined, after });
  return { jumpers, names };
}

export function leadDifferences(records: ComparedRecords): readonly LeadDifference[] {
  return records.parts.flatMap((couple) => {
    const [before, after] = [couple.before, couple.after].map((one): Part['lands'] =>
      one && one.kind !== 'splice' ? one.part.lands : [],
    );
    const part = pairOf(couple, (one) => (one.kind === 'splice' ? undefined : one.part.name));
    const terminals = [...new Set([...before!, ...after!].map(({ terminal }) => terminal))].sort(compare);
    return terminals.flatMap((terminal): readonly LeadDifference[] => {
      const was = before!.find((one) => one.terminal === terminal)?.on;
      const is = after!.find((one) => one.terminal === terminal)?.on;
      const points = { before: was ? pointOf(was) : null, after: is ? pointOf(is) : null };
      if (was && is) {
        return records.carried(was) === pointOf(is) ? [] : [{ part, terminal, change: 'moved', ...points }];
      }
      return [{ part, terminal, change: was ? 'lifted' : 'landed', ...points }];
    });
  });
}
