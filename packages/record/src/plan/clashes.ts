/** Statements of one plan that do the same thing twice, or things that exclude one another. */

import { type Group, grouped, putUnder } from '../grouped.js';
import { pointOf } from '../analysis-types.js';
import { doneBy } from './names.js';
import { conductorKey, type PlanProblem, type PlanStatement } from './types.js';

interface Clashes {
  readonly problems: readonly PlanProblem[];
  /** Statements that are not carried out. */
  readonly leftOut: ReadonlySet<number>;
}

/** Of statements that do one thing twice the first is carried out; of those that contradict one another none is. */
export function clashesOf(statements: readonly PlanStatement[]): Clashes {
  const problems: PlanProblem[] = [];
  const leftOut = new Set<number>();
  for (const group of groupsOf(statements)) {
    const kinds = grouped(group, (index) => statements[index]!.kind);
    for (const [first, ...again] of kinds.values()) {
      for (const index of again) {
        const facts = { what: doneBy(statements[index]!) };
        problems.push({ code: 'plan-twice', facts, at: { statement: index }, related: [first] });
        leftOut.add(index);
        // Two that differ leave it open which one is meant.
        if (JSON.stringify(statements[index]) !== JSON.stringify(statements[first])) leftOut.add(first);
      }
    }
    const firsts = [...kinds.values()].map(([first]) => first);
    const [one, ...others] = firsts;
    for (const other of others) {
      const facts = { one: doneBy(statements[one!]!), other: doneBy(statements[other]!) };
      problems.push({ code: 'plan-conflict', facts, at: { statement: other }, related: [one!] });
    }
    if (others.length > 0) for (const index of group) leftOut.add(index);
  }
  return { problems, leftOut };
}

/** Statements that are about one thing: a part, a run, a jumper, one end of a conductor. */
function groupsOf(statements: readonly PlanStatement[]): readonly (readonly number[])[] {
  const groups = new Map<string, Group<number>>();
  const put = (key: string, index: number): void => putUnder(groups, key, index);
  const removed = new Map<string, number>();
  statements.forEach((statement, index) => {
    if (statement.kind === 'remove') removed.set(statement.name, index);
  });
  const replacedConductors = new Map<string, number>();
  statements.forEach((statement, index) => {
    if (statement.kind !== 'replace-run') return;
    for (const { colour } of statement.conductors) {
      replacedConductors.set(conductorKey(statement.name, colour), index);
    }
  });
  const landed = new Set(statements.flatMap((one) => (one.kind === 'land' ? [conductorKey(one.run, one.colour)] : [])));
  statements.forEach((statement, index) => {
    switch (statement.kind) {
      case 'replace-part':
      case 'replace-run':
      case 'remove':
        put(`name ${statement.name}`, index);
        return;
      case 'relocate': {
        const key = `place ${statement.name}`;
        const other = removed.get(statement.name);
        if (other !== undefined && !groups.has(key)) put(key, other);
        put(key, index);
        return;
      }
      case 'remove-jumper':
        put(`jumper ${[pointOf(statement.from), pointOf(statement.to)].sort().join(' ')}`, index);
        return;
      case 'move':
      case 'land':
      case 'lift': {
        const key = conductorKey(statement.run, statement.colour);
        // Lifting what hangs on a cable that comes out anyway says nothing that contradicts it.
        const other = statement.kind === 'lift' ? undefined : removed.get(statement.run);
        const restated = replacedConductors.get(key);
        const excludes = other ?? restated;
        if (excludes !== undefined) {
          put(`excluded ${key}`, excludes);
          put(`excluded ${key}`, index);
        } else if (landed.has(key)) put(`conductor ${key}`, index);
        else if (statement.kind !== 'land') put(`conductor ${key} ${pointOf(statement.from)}`, index);
      }
    }
  });
  return [...groups.values()].filter((group) => group.length > 1);
}
