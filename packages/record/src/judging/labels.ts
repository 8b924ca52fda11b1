/** What the labels ask of a supply, before anything is computed. */

import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { worksOnItsLabel } from './feeding.js';
import { studyOf } from './study.js';

export interface Ask {
  readonly part: string;
  readonly voltAmperes: number;
  /** Whether the label names a supply, or what the part draws. */
  readonly by: 'needs' | 'rating' | 'draw';
}

export interface Asked {
  readonly winding: ResolvedElement;
  /** VA of the winding, or of the tapped winding that its section is of. */
  readonly rated: number;
  readonly asks: readonly Ask[];
  readonly total: number;
}

/** For the supply of a circuit: what lasts, by label, against its rating. A coil behind a button does not last. */
export function askedOf(analysis: Analysis, circuit: CircuitAnalysis): Asked | undefined {
  const study = studyOf(analysis);
  const [winding, ...others] = study.elementsOf(circuit, 'winding');
  if (winding === undefined || others.some(({ part }) => part !== winding.part)) return undefined;
  const rated = winding.sectionOf?.voltAmperes ?? winding.ratedVoltAmperes;
  if (rated === undefined) return undefined;
  const asks: Ask[] = [];
  for (const name of circuit.devices) {
    const part = analysis.parts.get(name);
    const lasting = study.elementsOf(circuit, 'load', 'lamp').filter((element) => element.part === name);
    if (part === undefined || lasting.length === 0) continue;
    if (part.needs !== undefined) {
      asks.push({ part: name, voltAmperes: part.needs.least, by: part.needs.by });
      continue;
    }
    const label = lasting.some(({ element }) => element.asRated) ? part.rating?.voltAmperes : undefined;
    const drawn = label ?? lasting.reduce((sum, element) => sum + drawOf(analysis, element), 0);
    if (drawn > 0) asks.push({ part: name, voltAmperes: drawn, by: 'draw' });
  }
  return { winding, rated, asks, total: asks.reduce((sum, { voltAmperes }) => sum + voltAmperes, 0) };
}

/** A lamp counts by its part's own label; the pilot lamp of a push is not what the supply is sized by. */
function drawOf(analysis: Analysis, resolved: ResolvedElement): number {
  const { draws, ratedVolts = 0, ratedVoltAmperes = 0, element } = resolved;
  if (element.kind === 'lamp') return element.asRated && worksOnItsLabel(analysis, resolved) ? ratedVoltAmperes : 0;
  if (draws === undefined) return ratedVoltAmperes;
  return draws.unit === 'VA' ? draws.idle : draws.idle * ratedVolts;
}
