/** What an installation has under each name, and how an end or a statement is put into words. */

import { pointOf } from '../analysis-types.js';
import type { Box, End, Installation, Jumper, Landing, Part, PartType, Run, Splice } from '../model.js';
import { quote } from '../judging/words.js';
import type { PlanStatement } from './types.js';

export type Named =
  | { readonly kind: 'supply' | 'device'; readonly part: Part }
  | { readonly kind: 'splice'; readonly splice: Splice }
  | { readonly kind: 'run'; readonly run: Run }
  | { readonly kind: 'jumper' | 'pigtail'; readonly jumper: Jumper }
  | { readonly kind: 'box'; readonly box: Box };

/** Parts, splices, runs, named jumpers and boxes; the first of two with one name. */
export function namedIn({
  supplies,
  devices,
  splices,
  runs,
  jumpers,
  boxes = [],
}: Installation): ReadonlyMap<string, Named> {
  const named = new Map<string, Named>();
  const add = (name: string, what: Named): void => {
    if (!named.has(name)) named.set(name, what);
  };
  for (const part of [...supplies, ...devices]) add(part.name, { kind: part.kind, part });
  for (const splice of splices) add(splice.name, { kind: 'splice', splice });
  for (const run of runs) add(run.name, { kind: 'run', run });
  for (const jumper of jumpers) if (jumper.named) add(jumper.name, { kind: jumper.kind, jumper });
  for (const box of boxes) add(box.name, { kind: 'box', box });
  return named;
}

export function sameEnd(one: End, other: End): boolean {
  return one.part === other.part && one.terminal === other.terminal;
}

export function isOn(landing: Landing | undefined, end: End): boolean {
  return landing?.kind === 'on' && sameEnd(landing.end, end);
}

/** Whether two ends are the ends of a jumper, whichever way round. */
export function joins(jumper: Jumper, one: End, other: End): boolean {
  const straight = sameEnd(jumper.from, one) && sameEnd(jumper.to, other);
  return straight || (sameEnd(jumper.from, other) && sameEnd(jumper.to, one));
}

/** Whether a part of this type takes an end; parts of a type that is not known take any. */
export function hasTerminal(type: PartType | undefined, terminal: string | undefined): boolean {
  if (type === undefined) return true;
  return terminal !== undefined && type.terminals.some((one) => one.name === terminal);
}

export function conductorWords(run: string, colour: string): string {
  return `${quote(colour)} of ${quote(run)}`;
}

/** What a statement does, in a clause: "`red` of `tx-to-porch` is moved off `porch-button.a`". */
export function doneBy(statement: PlanStatement): string {
  switch (statement.kind) {
    case 'replace-part':
    case 'replace-run':
      return `${quote(statement.name)} is replaced`;
    case 'remove':
      return `${quote(statement.name)} is removed`;
    case 'relocate':
      return `${quote(statement.name)} is relocated`;
    case 'remove-jumper':
      return `the jumper from ${quote(pointOf(statement.from))} to ${quote(pointOf(statement.to))} is removed`;
    case 'move':
      return `${conductorWords(statement.run, statement.colour)} is moved off ${quote(pointOf(statement.from))}`;
    case 'lift':
      return `${conductorWords(statement.run, statement.colour)} is lifted off ${quote(pointOf(statement.from))}`;
    case 'land':
      return `${conductorWords(statement.run, statement.colour)} is landed`;
  }
}
