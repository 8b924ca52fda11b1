/** Figures before and after, of what shares a circuit with something that changed. */

import type { Analysis } from '../analysis-types.js';
import { budgetDevice, budgetRun } from '../budget/budget.js';
import { budgetSupply } from '../budget/supplies.js';
import type { Extreme, StateKey } from '../budget-types.js';
import type { ComparedRecords, Couple } from './context.js';
import { nameOf, pairOf } from './context.js';
import type { FigureDifference, Pair } from './types.js';

/** Two solutions of one circuit agree to this. */
const SAME = 1e-7;

interface Figure extends Pick<FigureDifference, 'element' | 'figure' | 'unit'> {
  readonly value: number;
  readonly when: StateKey | null;
}

/** `isTouched` tells by a name of the old record (`before`) or of the new one whether its circuit is another now. */
export function figureDifferences(
  records: ComparedRecords,
  before: Analysis,
  after: Analysis,
  touched: Pair<ReadonlySet<string>>,
): readonly FigureDifference[] {
  const isTouched = (name: Pair<string>): boolean =>
    (name.before !== null && touched.before!.has(name.before)) ||
    (name.after !== null && touched.after!.has(name.after));
  const parts = records.parts.flatMap((couple) => {
    const name = pairOf(couple, nameOf);
    const kind = (couple.before ?? couple.after)!.kind;
    if (kind === 'splice' || !isTouched(name)) return [];
    const of = kind === 'supply' ? supplyFigures : deviceFigures;
    return differences(kind, name, figuresOf(before, name.before, of), figuresOf(after, name.after, of));
  });
  const runs = records.runs.flatMap((couple: Couple<{ readonly name: string }>) => {
    const name = pairOf(couple, (run) => run.name);
    if (!isTouched(name)) return [];
    return differences(
      'run',
      name,
      figuresOf(before, name.before, runFigures),
      figuresOf(after, name.after, runFigures),
    );
  });
  return [...parts, ...runs];
}

function figuresOf(
  analysis: Analysis,
  name: string | null,
  of: (analysis: Analysis, name: string) => readonly Figure[],
): readonly Figure[] {
  return name === null ? [] : of(analysis, name);
}

function differences(
  of: FigureDifference['of'],
  name: Pair<string>,
  before: readonly Figure[],
  after: readonly Figure[],
): readonly FigureDifference[] {
  const keyOf = ({ element, figure }: Figure): string => `${element} ${figure}`;
  const was = new Map(before.map((figure) => [keyOf(figure), figure]));
  const is = new Map(after.map((figure) => [keyOf(figure), figure]));
  const keys = [...new Set([...was.keys(), ...is.keys()])].sort();
  return keys.flatMap((key) => {
    const [one, other] = [was.get(key), is.get(key)];
    if (one && other && Math.abs(one.value - other.value) <= SAME * Math.max(1, Math.abs(one.value))) return [];
    const { element, figure, unit } = (one ?? other)!;
    const when = { before: one?.when ?? null, after: other?.when ?? null };
    return [{ of, name, element, figure, unit, before: one?.value ?? null, after: other?.value ?? null, when }];
  });
}

function supplyFigures(analysis: Analysis, name: string): readonly Figure[] {
  const part = analysis.parts.get(name);
  if (part === undefined) return [];
  return budgetSupply(analysis, part).windings.flatMap(({ from, to, noLoadVolts, worst, lasting }) => {
    const element = `winding ${from} to ${to}`;
    return [
      ...(noLoadVolts === null
        ? []
        : [{ element, figure: 'no-load volts', unit: 'V', value: noLoadVolts, when: null } as const]),
      ...share(element, 'share at worst', worst),
      ...share(element, 'share that lasts', lasting),
    ];
  });
}

function share(
  element: string,
  figure: 'share at worst' | 'share that lasts',
  worst: (StateKey & { readonly share: number | null }) | null,
): readonly Figure[] {
  if (worst === null || worst.share === null) return [];
  return [{ element, figure, unit: 'share', value: worst.share, when: stateOf(worst) }];
}

function deviceFigures(analysis: Analysis, name: string): readonly Figure[] {
  const part = analysis.parts.get(name);
  if (part === undefined) return [];
  return budgetDevice(analysis, part).elements.flatMap(({ kind, from, to, least, leastWorking, most }) => {
    if (kind === 'contact' || kind === 'diode') return [];
    const element = `${kind} ${from} to ${to}`;
    return [...extreme(element, 'least volts', leastWorking ?? least), ...extreme(element, 'most volts', most)];
  });
}

function extreme(element: string, figure: 'least volts' | 'most volts', found: Extreme | null): readonly Figure[] {
  if (found === null) return [];
  return [{ element, figure, unit: 'V', value: found.volts, when: stateOf(found) }];
}

/** The most that is lost in each conductor, at nominal mains. */
function runFigures(analysis: Analysis, name: string): readonly Figure[] {
  const run = analysis.runs.get(name);
  if (run === undefined) return [];
  return budgetRun(analysis, run).conductors.flatMap(({ colour, solved }) => {
    let worst: { readonly value: number; readonly when: StateKey } | undefined;
    for (const { dropVolts, ...state } of solved) {
      if (dropVolts === null || (worst && dropVolts <= worst.value)) continue;
      worst = { value: dropVolts, when: stateOf(state) };
    }
    return worst ? [{ element: `conductor ${colour}`, figure: 'volts lost', unit: 'V', ...worst }] : [];
  });
}

function stateOf({ closed, maintained, loads }: StateKey): StateKey {
  return { closed, ...(maintained === undefined ? {} : { maintained }), loads };
}
