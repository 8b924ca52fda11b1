/** The work order that follows from two records, and the way back. */

import type { Analysis } from '../analysis-types.js';
import { nameOf } from '../compare/context.js';
import { inTradeWords } from '../regions/regions.js';
import { affectedBy } from './affected.js';
import { expectedReadings } from './expected.js';
import { stepsFor } from './steps.js';
import type { WorkOrder, WorkOrders } from './types.js';

export function workOrders(before: Analysis, after: Analysis): WorkOrders {
  return { version: 1, there: workOrder(before, after), back: workOrder(after, before) };
}

/** Nothing is in it that the two records do not differ in. */
export function workOrder(before: Analysis, after: Analysis): WorkOrder {
  const affected = affectedBy(before.installation, after.installation);
  const { profile } = after.installation;
  const touched = new Set<string>([
    ...affected.mounted.map(nameOf),
    ...affected.pulledRuns.map(({ name }) => name),
    ...affected.landed.flatMap(({ run, end }) => [run, end.part]),
    ...affected.fittedJumpers.flatMap(({ from, to }) => [from.part, to.part]),
    ...affected.landedLeads.flatMap(({ part, on }) => [part, on.part]),
    ...affected.capped.map(({ run }) => run),
    ...affected.removedJumpers.flatMap(({ from, to }) => [from.part, to.part]),
  ]);
  const expected = expectedReadings(after, touched);
  const steps = stepsFor(affected, before, after, expected);
  return {
    before: before.installation.title ?? null,
    after: after.installation.title ?? null,
    steps: steps.map((step) => ({ ...step, words: inTradeWords(profile, step.words) })),
    expected: steps.length === 0 ? [] : expected,
  };
}
