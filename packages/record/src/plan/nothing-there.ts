/** Whether what a plan's statement changes is there, and where the plan says it is. */

import { pointOf } from '../analysis-types.js';
import type { Conductor, Installation } from '../model.js';
import { nearestNames } from '../probe/nearest.js';
import { compare } from '../resolve/parts.js';
import { sameColour } from '../judging/colours.js';
import { quote } from '../judging/words.js';
import { isOn, joins, type Named, sameEnd } from './names.js';
import type { PlanProblem, PlanStatement } from './types.js';

type OfRun = Extract<PlanStatement, { run: string }>;

interface Where {
  readonly at: { readonly statement: number };
  readonly related: readonly number[];
}

/** What keeps a statement from being carried out; undefined where nothing does. */
export function missingFrom(
  base: Installation,
  named: ReadonlyMap<string, Named>,
  statement: PlanStatement,
  index: number,
): PlanProblem | undefined {
  const where = { at: { statement: index }, related: [] } as const;
  const nothing = (doing: string, what: string, isA: string | undefined, nearest: readonly string[]): PlanProblem => ({
    code: 'plan-nothing-there',
    facts: { doing, what, ...(isA === undefined ? {} : { isA }), nearest },
    ...where,
  });
  switch (statement.kind) {
    case 'replace-part':
    case 'replace-run': {
      const wanted = statement.kind === 'replace-run' ? 'run' : statement.of;
      const known = named.get(statement.name);
      if (known?.kind === wanted) return undefined;
      const alike = [...named].filter(([, { kind }]) => kind === wanted).map(([name]) => name);
      const what = `${wanted} ${quote(statement.name)}`;
      return nothing('replace', what, known?.kind, known ? [] : nearestNames(statement.name, alike));
    }
    case 'remove':
      if (named.has(statement.name)) return undefined;
      return nothing('remove', quote(statement.name), undefined, nearestNames(statement.name, named.keys()));
    case 'remove-jumper': {
      const { from, to } = statement;
      if (base.jumpers.some((jumper) => joins(jumper, from, to))) return undefined;
      return nothing('remove', `jumper from ${quote(pointOf(from))} to ${quote(pointOf(to))}`, undefined, []);
    }
    case 'relocate':
      return notRelocated(named, statement, where);
    default: {
      const known = named.get(statement.run);
      if (known?.kind === 'run') return elsewhere(known.run.conductors, statement, where);
      const runs = base.runs.map(({ name }) => name);
      const nearest = known ? [] : nearestNames(statement.run, runs);
      return nothing(statement.kind, `run ${quote(statement.run)}`, known?.kind, nearest);
    }
  }
}

function elsewhere(conductors: readonly Conductor[], statement: OfRun, where: Where): PlanProblem | undefined {
  const alike = conductors.filter(({ colour }) => sameColour(colour, statement.colour));
  const { run, colour } = statement;
  const is = [...new Set(alike.flatMap(pointsOf))].sort(compare);
  if (statement.kind === 'land') {
    const free = alike.every((one) => isFreeFor(one, statement));
    return free ? undefined : { code: 'plan-end-elsewhere', facts: { run, colour, is }, ...where };
  }
  const found = alike.some((one) => !one.spare && (isOn(one.from, statement.from) || isOn(one.to, statement.from)));
  if (found) return undefined;
  return { code: 'plan-end-elsewhere', facts: { run, colour, from: pointOf(statement.from), is }, ...where };
}

/** Spare, or landed already on no more than one of the two ends. */
function isFreeFor({ from, to, spare }: Conductor, statement: Extract<OfRun, { kind: 'land' }>): boolean {
  if (spare) return true;
  const landed = [from, to].flatMap((one) => (one?.kind === 'on' ? [one.end] : []));
  return landed.length < 2 && landed.every((end) => sameEnd(end, statement.from) || sameEnd(end, statement.to));
}

function pointsOf({ from, to, spare }: Conductor): readonly string[] {
  if (spare) return [];
  return [from, to].flatMap((one) => (one?.kind === 'on' ? [pointOf(one.end)] : []));
}

/** Supplies, devices and splices stand in a place; a run has two, and a box is one. */
function notRelocated(
  named: ReadonlyMap<string, Named>,
  { name, place }: Extract<PlanStatement, { kind: 'relocate' }>,
  where: Where,
): PlanProblem | undefined {
  const known = named.get(name);
  const standing = known && placed(known);
  const nothing = { doing: 'relocate', what: quote(name) };
  if (standing === undefined) {
    const facts = known
      ? { ...nothing, what: `part ${quote(name)}`, isA: known.kind, nearest: [] }
      : {
          ...nothing,
          nearest: nearestNames(
            name,
            [...named].flatMap(([one, what]) => (placed(what) ? [one] : [])),
          ),
        };
    return { code: 'plan-nothing-there', facts, ...where };
  }
  if (standing.place !== place) return undefined;
  return { code: 'plan-nothing-there', facts: { ...nothing, isIn: place, nearest: [] }, ...where };
}

function placed(named: Named): { readonly place?: string } | undefined {
  if (named.kind === 'splice') return named.splice;
  return named.kind === 'supply' || named.kind === 'device' ? named.part : undefined;
}
