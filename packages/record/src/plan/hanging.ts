/** Ends that are still on something the plan takes away. */

import { grouped } from '../grouped.js';
import { pointOf } from '../analysis-types.js';
import type { Conductor, End, Installation, Jumper, Landing, Part } from '../model.js';
import { at, type RecordPath } from '../place-in-record.js';
import { compare } from '../resolve/parts.js';
import { quote } from '../judging/words.js';
import { conductorWords, hasTerminal } from './names.js';
import type { PlanProblem } from './types.js';

interface Surroundings {
  /** Parts that have another in their place. */
  readonly replaced: ReadonlySet<string>;
  readonly addedRuns: ReadonlySet<string>;
  readonly addedJumpers: ReadonlySet<string>;
  readonly origins: ReadonlyMap<RecordPath, number>;
  /** Takes the names that are left in doubt. */
  readonly broken: Set<string>;
}

interface Hanging {
  readonly words: string;
  readonly end: End;
  /** Said of the plan's own line where it lands something on what is gone. */
  readonly by: number | RecordPath | undefined;
}

/** Hanging ends are known to be nowhere any more: nothing further is said of them. */
export function findHanging(
  installation: Installation,
  withdrawn: ReadonlyMap<string, number>,
  { replaced, addedRuns, addedJumpers, origins, broken }: Surroundings,
): { readonly installation: Installation; readonly problems: readonly PlanProblem[] } {
  if (withdrawn.size === 0) return { installation, problems: [] };
  const parts = new Map([...installation.supplies, ...installation.devices].map((part) => [part.name, part]));
  const splices = new Set(installation.splices.map(({ name }) => name));
  const isGone = (end: End): boolean => {
    if (!withdrawn.has(end.part)) return false;
    const part = parts.get(end.part);
    if (part === undefined) return !splices.has(end.part);
    return !hasTerminal(part.type === undefined ? undefined : installation.partTypes.get(part.type), end.terminal);
  };
  const found: Hanging[] = [];
  const note = (end: End, words: string, by: Hanging['by'], inDoubt: readonly string[]): void => {
    found.push({ words, end, by });
    for (const name of inDoubt) broken.add(name);
  };
  const runs = installation.runs.map((run) => {
    const conductors = run.conductors.map((conductor, index): Conductor => {
      if (conductor.spare) return conductor;
      const settle = (side: 'from' | 'to'): Landing | undefined => {
        const landing = conductor[side];
        if (landing?.kind !== 'on' || !isGone(landing.end)) return landing;
        const path = at.conductorEnd(run.name, index, side);
        const by = addedRuns.has(run.name) ? path : (origins.get(path) ?? origins.get(at.conductor(run.name, index)));
        note(landing.end, conductorWords(run.name, conductor.colour), by, [run.name]);
        return { kind: 'unknown' };
      };
      const from = settle('from');
      const to = settle('to');
      return { ...conductor, ...(from ? { from } : {}), ...(to ? { to } : {}) };
    });
    return { ...run, conductors };
  });
  const jumpers = installation.jumpers.filter((jumper) => {
    const ends = [jumper.from, jumper.to].filter(isGone);
    for (const end of ends) {
      const other = end === jumper.from ? jumper.to : jumper.from;
      const by = addedJumpers.has(jumper.name) ? at.jumper(jumper.name) : undefined;
      note(end, jumperWords(jumper, other), by, [other.part]);
    }
    return ends.length === 0;
  });
  const settleLands = (part: Part): Part => ({
    ...part,
    lands: part.lands.filter(({ terminal, on }) => {
      if (!isGone(on)) return true;
      const by = withdrawn.has(part.name) ? withdrawn.get(part.name) : undefined;
      note(on, `the lead ${quote(`${part.name}.${terminal}`)}`, by, [part.name]);
      return false;
    }),
  });
  const supplies = installation.supplies.map(settleLands);
  const devices = installation.devices.map(settleLands);
  return {
    installation: { ...installation, supplies, devices, runs, jumpers },
    problems: problemsOf(found, withdrawn, replaced),
  };
}

function jumperWords(jumper: Jumper, other: End): string {
  return jumper.named ? `the ${jumper.kind} ${quote(jumper.name)}` : `the ${jumper.kind} to ${quote(pointOf(other))}`;
}

/** One for each part that is taken away, with all that is left on it, and one for each of the plan's own ends. */
function problemsOf(
  found: readonly Hanging[],
  withdrawn: ReadonlyMap<string, number>,
  replaced: ReadonlySet<string>,
): readonly PlanProblem[] {
  const groups = grouped(found, ({ end, by }) => `${end.part} ${by ?? ''}`);
  return [...groups.values()].map((group) => {
    const [{ end, by }] = group;
    const taker = withdrawn.get(end.part)!;
    const ends = [...new Set(group.map(({ words }) => words))].sort(compare);
    const lacks = [...new Set(group.flatMap((one) => one.end.terminal ?? []))].sort(compare);
    const where = by === undefined ? { statement: taker } : typeof by === 'number' ? { statement: by } : { path: by };
    const related = by === undefined || by === taker ? [] : [taker];
    const facts = { part: end.part, ends, ...(replaced.has(end.part) ? { lacks } : {}) };
    return { code: 'plan-left-hanging', facts, at: where, related };
  });
}
