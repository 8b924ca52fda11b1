/** Branch circuits as the budget shows them: what each carries, against its breaker. */

import { type Budget, type BudgetBranch, regionOf } from '@ohmstead/record';
import { amps, cell, size, volts } from './figures.js';
import { upperFirst } from './words.js';

interface BranchView {
  readonly branch: BudgetBranch;
  /** "circuit 7, 120 V, in basement". */
  readonly about: string;
  /** "7.58 A, of a 15 A breaker 53 %". */
  readonly headline: string;
  /** Label, VA, amps: what it fed before, then what the record puts on it. */
  readonly rows: readonly (readonly [what: string, va: string, amps: string])[];
  /** How what is continuous is counted. */
  readonly counting: string;
}

export function branchViews({ branches = [] }: Budget): readonly BranchView[] {
  return branches.map((branch) => ({
    branch,
    about: [
      ...(branch.circuit === null ? [] : [`circuit ${branch.circuit}`]),
      volts(branch.volts).replace('.0 ', ' '),
      ...(branch.place === null ? [] : [`in ${branch.place}`]),
    ].join(', '),
    headline: headlineOf(branch),
    rows: [
      ...(branch.existingAmps === null ? [] : [['fed already', cell(null, 1), size(branch.existingAmps, 2)] as const]),
      ...branch.feeds.map((one) => [one.name, cell(one.va, 1), size(one.amps, 2)] as const),
    ],
    counting: countingOf(branch),
  }));
}

/** The share is that of what counts: where it is more than what flows, both are said. */
function headlineOf({ totalAmps, countedAmps, breakerAmps, share, existingAmps }: BudgetBranch): string {
  const carried = `carries ${amps(totalAmps)}`;
  const unknown = existingAmps === null ? ', besides what it feeds that is not recorded' : '';
  if (breakerAmps === null || share === null) return `${carried}${unknown}; no breaker is recorded`;
  const counted = amps(countedAmps) === amps(totalAmps) ? '' : `, counted as ${amps(countedAmps)}`;
  return `${carried}${unknown}${counted}: ${Math.round(share * 100)} % of its ${Number(breakerAmps.toFixed(1))} A breaker`;
}

function countingOf({ continuousAmps, continuousFactor, countedAmps, rule }: BudgetBranch): string {
  if (continuousFactor === 1 || continuousAmps === 0) return '';
  return `${amps(continuousAmps)} of it is continuous and counts ${continuousFactor} times (${rule}): ${amps(countedAmps)} against the breaker.`;
}

/** "Line side", "Mains side". */
export function branchHeading(budget: Budget): string {
  return upperFirst(regionOf(budget.profile).words.mainsSide);
}

/** What the figures of a branch circuit are. */
export const branchBasis =
  'A transformer counts by the VA on its label. What a circuit may carry is for local code and a licensed electrician to say.';
