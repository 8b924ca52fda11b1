/** Branch circuits of the line side, with what the record puts on them. */

import type { Analysis } from '../analysis-types.js';
import type { BudgetBranch } from '../budget-types.js';
import { branchLoad } from '../line-side/branch-load.js';
import { lineSideOf } from '../line-side/line-side.js';
import { compare } from '../resolve/parts.js';

/** In order of name. */
export function budgetBranches(analysis: Analysis): readonly BudgetBranch[] {
  const lineSide = lineSideOf(analysis);
  const branches = [...(lineSide?.branches ?? [])].sort((one, other) => compare(one.part.name, other.part.name));
  return branches.map((branch): BudgetBranch => {
    const load = branchLoad(analysis, lineSide!, branch);
    const { part, volts } = branch;
    const own = load.fed.reduce((sum, { amps }) => sum + amps, 0);
    return {
      name: part.name,
      place: part.place?.name ?? null,
      circuit: part.facts.circuit ?? null,
      volts,
      breakerAmps: load.breakerAmps ?? null,
      existingAmps: load.existing?.amps ?? null,
      continuousAmps: own + (load.existing?.continuousAmps ?? 0),
      continuousFactor: load.factor.value,
      rule: load.factor.source,
      feeds: load.fed.map((one) => ({ name: one.part.name, va: one.voltAmperes, amps: one.amps })),
      totalAmps: load.totalAmps,
      countedAmps: load.countedAmps,
      share: load.breakerAmps === undefined ? null : load.countedAmps / load.breakerAmps,
    };
  });
}
