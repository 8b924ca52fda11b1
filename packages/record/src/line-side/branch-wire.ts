/** The conductors of a branch circuit, each with the breaker or fuse that protects it. */

import { keptWith } from '../analyse/lazily.js';
import type { Analysis, ResolvedElement, ResolvedRun } from '../analysis-types.js';
import { pointOf } from '../analysis-types.js';
import { type BreakerRow, breakerRow } from '../regions/line-limits.js';
import type { Branch } from './line-side.js';

export interface ProtectedRun {
  readonly run: ResolvedRun;
  /** What protects it: the breaker, or a fuse on the way. */
  readonly amps: number;
  /** The part that does. */
  readonly by: string;
  /** The row that its size is held to; undefined where none is. */
  readonly row: BreakerRow | undefined;
}

interface Reached {
  readonly amps: number;
  readonly by: string;
}

/** Runs that the hot conductor reaches, without the leads of parts, which come with them. In order of reach. */
export function protectedRuns(analysis: Analysis, branch: Branch): readonly ProtectedRun[] {
  const breaker = branch.part.facts.breakerAmps;
  if (breaker === undefined) return [];
  const inRing = isRing(analysis, branch);
  const found = new Map<string, ProtectedRun>();
  walk(analysis, branch, breaker, (run, { amps, by }) => {
    if (found.has(run.run.name) || landsOnLowVoltage(analysis, run)) return;
    const { size, material = 'copper' } = run.cable ?? {};
    const row = size && breakerRow(analysis.installation.profile, size, material, inRing);
    found.set(run.run.name, { run, amps, by, row });
  });
  return [...found.values()];
}

/** Bell wire that is joined to the mains by mistake: not a conductor of the circuit. */
function landsOnLowVoltage({ parts }: Analysis, { conductors }: ResolvedRun): boolean {
  return conductors.some(({ from, to }) =>
    [from, to].some((end) => {
      const terminal = end && parts.get(end.part)?.terminals.find(({ name }) => name === end.terminal);
      return terminal !== undefined && terminal.lineSide === undefined;
    }),
  );
}

/** Two conductors of one circuit on the breaker: its cable comes back to where it started. */
function isRing(analysis: Analysis, { hot }: Branch): boolean {
  return analysis.landedOn(hot.point).filter(({ kind }) => kind === 'conductor').length === 2;
}

interface Step {
  readonly to: string;
  readonly run?: ResolvedRun;
  /** Amps that the step itself lets through, where it is a fuse. */
  readonly fuse?: Reached;
}

function walk(
  analysis: Analysis,
  { hot, part }: Branch,
  breaker: number,
  visit: (run: ResolvedRun, reached: Reached) => void,
): void {
  const steps = stepsOf(analysis);
  const reached = new Map<string, Reached>([[hot.point, { amps: breaker, by: part.name }]]);
  // The map grows while it is gone through, so that it is its own queue.
  for (const [point, at] of reached) {
    for (const { to, run, fuse } of steps.get(point) ?? []) {
      const beyond = fuse !== undefined && fuse.amps < at.amps ? fuse : at;
      if (run !== undefined) visit(run, beyond);
      if (!reached.has(to)) reached.set(to, beyond);
    }
  }
}

const stepsOf = keptWith((analysis: Analysis): ReadonlyMap<string, readonly Step[]> => {
  const steps = new Map<string, Step[]>();
  const put = (from: string, step: Step): void => {
    const list = steps.get(from);
    if (list) list.push(step);
    else steps.set(from, [step]);
  };
  const both = (a: string, b: string, step: Omit<Step, 'to'> = {}): void => {
    put(a, { to: b, ...step });
    put(b, { to: a, ...step });
  };
  for (const run of analysis.runs.values()) {
    run.run.conductors.forEach(({ from, to, spare }) => {
      if (spare) return;
      const ends = [from, to].flatMap((one) => (one?.kind === 'on' ? [pointOf(one.end)] : []));
      // A conductor that leads on to nobody knows where has the breaker behind it all the same.
      const [a, b = `${run.run.name} beyond`] = ends;
      if (a !== undefined) both(a, b, { run });
    });
  }
  for (const { from, to } of analysis.jumpers.values()) both(pointOf(from), pointOf(to));
  for (const { name, lands } of [...analysis.installation.supplies, ...analysis.installation.devices]) {
    for (const { terminal, on } of lands) both(`${name}.${terminal}`, pointOf(on));
  }
  for (const part of analysis.parts.values()) {
    const rated = part.role === 'fuse' ? part.rating?.amps : undefined;
    const fuse = rated === undefined ? undefined : { amps: rated, by: part.name };
    for (const element of part.elements.filter(passesOn)) both(element.a, element.b, fuse && { fuse });
  }
  return steps;
});

function passesOn({ element, present }: ResolvedElement): boolean {
  return present && (element.kind === 'contact' || element.kind === 'link');
}
