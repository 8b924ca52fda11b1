/** What a branch circuit carries: what it fed before, and what the record puts on it. */

import { keptWith } from '../analyse/lazily.js';
import type { Analysis, ResolvedPart } from '../analysis-types.js';
import { lineLimit, type RegionalLimit } from '../regions/line-limits.js';
import type { Branch, LineSide } from './line-side.js';

interface FedPart {
  readonly part: ResolvedPart;
  readonly voltAmperes: number;
  /** At the volts of the branch circuit. */
  readonly amps: number;
}

export interface BranchLoad {
  readonly branch: Branch;
  readonly breakerAmps: number | undefined;
  /** Stated to be fed already, amps; undefined where nothing is stated. */
  readonly existing: { readonly amps: number; readonly continuousAmps: number } | undefined;
  readonly fed: readonly FedPart[];
  readonly totalAmps: number;
  /** The same with what is continuous counted by its factor: what is held against the breaker. */
  readonly countedAmps: number;
  readonly factor: RegionalLimit;
}

/** A supply counts by the VA of its rating, and as continuous: what hangs on it may be on all day. */
export function branchLoad(analysis: Analysis, lineSide: LineSide, branch: Branch): BranchLoad {
  const factor = lineLimit('continuousFactor', analysis.installation.profile)!;
  const fed = fedBy(lineSide, branch);
  const { existingLoads, breakerAmps } = branch.part.facts;
  const sum = (amps: readonly number[]) => amps.reduce((total, one) => total + one, 0);
  const own = sum(fed.map(({ amps }) => amps));
  const existing = existingLoads && {
    amps: sum(existingLoads.map(({ amps }) => amps)),
    continuousAmps: sum(existingLoads.filter(({ continuous }) => continuous).map(({ amps }) => amps)),
  };
  const continuous = own + (existing?.continuousAmps ?? 0);
  const totalAmps = own + (existing?.amps ?? 0);
  const countedAmps = totalAmps + continuous * (factor.value - 1);
  return { branch, breakerAmps, existing, fed, totalAmps, countedAmps, factor };
}

function fedBy(lineSide: LineSide, branch: Branch): readonly FedPart[] {
  return (partsFed(lineSide).get(branch) ?? []).flatMap((part): FedPart[] => {
    const voltAmperes = part.kind === 'supply' ? supplyVoltAmperes(part) : deviceVoltAmperes(lineSide, part);
    return voltAmperes > 0 ? [{ part, voltAmperes, amps: voltAmperes / branch.volts }] : [];
  });
}

const partsFed = keptWith((lineSide: LineSide): ReadonlyMap<Branch, readonly ResolvedPart[]> => {
  const byBranch = new Map<Branch, ResolvedPart[]>();
  for (const part of lineSide.analysis.parts.values()) {
    const branch = lineSide.feederOf(part);
    if (branch === undefined) continue;
    const fed = byBranch.get(branch);
    if (fed) fed.push(part);
    else byBranch.set(branch, [part]);
  }
  return byBranch;
});

/** Of all its windings by their rating; the sections of a tapped one share theirs. Losses of its own are not counted. */
function supplyVoltAmperes({ elements }: ResolvedPart): number {
  const windings = new Map<string, number>();
  for (const { id, element, ratedVoltAmperes = 0, sectionOf, present } of elements) {
    if (element.kind !== 'winding' || !present) continue;
    windings.set(sectionOf?.winding ?? id, sectionOf?.voltAmperes ?? ratedVoltAmperes);
  }
  return [...windings.values()].reduce((sum, one) => sum + one, 0);
}

/** Of what in a device lies between two of its line-voltage terminals. */
function deviceVoltAmperes(lineSide: LineSide, part: ResolvedPart): number {
  const marked = new Set(
    [...lineSide.markedOf(part, 'hot'), ...lineSide.markedOf(part, 'neutral')].map((one) => one.point),
  );
  return part.elements
    .filter(({ a, b, present }) => present && marked.has(a) && marked.has(b))
    .reduce(
      (sum, { ratedVoltAmperes, draws }) => sum + (ratedVoltAmperes ?? (draws?.unit === 'VA' ? draws.idle : 0)),
      0,
    );
}
