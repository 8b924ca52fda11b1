/** What a label says in several figures. */

import type { Rating } from '@ohmstead/record';
import type { Quantity } from '../generated/ast.js';
import type { Measure } from '../reading/units.js';
import type { LoweringContext } from './context.js';
import { rangeOfRead, readQuantity } from './figures.js';

type Mutable<T> = { -readonly [Key in keyof T]: T[Key] };

export function ratingOf(context: LoweringContext, figures: readonly Quantity[]): Rating {
  const rating: Mutable<Rating> = {};
  const given = new Set<Measure>();
  for (const figure of figures) {
    const read = readQuantity(context, figure, ['volts', 'voltAmperes', 'watts', 'amps', 'hertz'], 'a rating');
    if (!read || isTwice(context, 'rating', figure, read.measure, given)) continue;
    if (read.measure === 'volts') rating.volts = rangeOfRead(read);
    if (read.measure === 'voltAmperes') rating.voltAmperes = read.most;
    if (read.measure === 'watts') rating.watts = read.most;
    if (read.measure === 'amps') rating.amps = read.most;
    if (read.system) rating.system = read.system;
  }
  return rating;
}

const MEASURE_WORDS: Readonly<Partial<Record<Measure, string>>> = { voltAmperes: 'VA', hertz: 'the frequency' };

/** Reports a second figure of one measure. */
export function isTwice(
  context: LoweringContext,
  fact: string,
  figure: Quantity,
  measure: Measure,
  given: Set<Measure>,
): boolean {
  if (!given.has(measure)) {
    given.add(measure);
    return false;
  }
  const facts = { what: 'twice', fact, measure: MEASURE_WORDS[measure] ?? measure } as const;
  context.report('syntax', facts, context.site(figure));
  return true;
}
