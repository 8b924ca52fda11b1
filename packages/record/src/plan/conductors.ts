/** Conductors of one run after what a plan does to them. */

import type { Conductor, Landing, Run } from '../model.js';
import { at, type RecordPath } from '../place-in-record.js';
import { sameColour } from '../judging/colours.js';
import { isOn } from './names.js';
import type { PlanStatement, ReplaceRun } from './types.js';

type OfRun = Extract<PlanStatement, { run: string }>;
interface Carry<Statement> {
  readonly index: number;
  readonly statement: Statement;
}

/** Conductors keep their places in the run; those that the plan is the first to state come last. */
export function changeConductors(
  run: Run,
  name: string,
  changes: readonly Carry<OfRun>[],
  replace: Carry<ReplaceRun> | undefined,
  origins: Map<RecordPath, number>,
): readonly Conductor[] {
  if (changes.length === 0 && replace === undefined) return run.conductors;
  const conductors = [...run.conductors];
  const indexOf = (colour: string): number => conductors.findIndex((one) => sameColour(one.colour, colour));
  const put = (index: number, ends: Partial<Pick<Conductor, 'from' | 'to'>>, by: number): void => {
    conductors[index] = { ...conductors[index]!, ...ends, spare: false };
    for (const end of Object.keys(ends)) origins.set(at.conductorEnd(name, index, end as 'from' | 'to'), by);
  };
  for (const stated of replace?.statement.conductors ?? []) {
    const known = indexOf(stated.colour);
    const index = known < 0 ? conductors.length : known;
    conductors[index] = stated;
    origins.set(at.conductor(name, index), replace!.index);
  }
  // Ends are found where they are in the base, so that no statement sees what another one did.
  for (const { statement, index: by } of changes) {
    const base = run.conductors.findIndex((one) => isChanged(one, statement));
    if (statement.kind === 'land') {
      const index = base < 0 ? conductors.length : base;
      if (base < 0) conductors.push({ colour: statement.colour, spare: false });
      origins.set(at.conductor(name, index), by);
      put(index, { from: { kind: 'on', end: statement.from }, to: { kind: 'on', end: statement.to } }, by);
      continue;
    }
    const side = isOn(run.conductors[base]?.from, statement.from) ? 'from' : 'to';
    const landing: Landing = statement.kind === 'lift' ? { kind: 'capped' } : { kind: 'on', end: statement.to };
    put(base, { [side]: landing }, by);
  }
  return conductors.map((one) => (isCappedTwice(one) ? { colour: one.colour, spare: true } : one));
}

/** The conductor that a statement means: of two of one colour the one that is landed where it says. */
function isChanged(conductor: Conductor, statement: OfRun): boolean {
  if (!sameColour(conductor.colour, statement.colour)) return false;
  if (statement.kind === 'land') return true;
  return !conductor.spare && (isOn(conductor.from, statement.from) || isOn(conductor.to, statement.from));
}

/** One that is off at both ends is spare, as one is that was never landed. */
function isCappedTwice({ from, to, spare }: Conductor): boolean {
  return !spare && from?.kind === 'capped' && to?.kind === 'capped';
}
