/** Figures and names as the editor shows them, in the words on labels. */

import {
  type ConductorSize as CircuitSize,
  formatAmps,
  formatGauge,
  formatNumber,
  formatShare,
} from '@ohmstead/circuit';
import type { BudgetBranch, CableType, ConductorSize, PartType, Range, Rating } from '@ohmstead/record';

/** A figure as a label has it: at most so many digits behind the point, no trailing zeros. */
export function stated(value: number, unit: string, digits = 3): string {
  return `${formatNumber(value, digits)} ${unit}`;
}

function statedRange({ least, most }: Range, unit: string): string {
  return least === most ? stated(least, unit) : `${formatNumber(least, 3)}..${stated(most, unit)}`;
}

/** A computed figure as people write it; a dash where there is none. */
export function computed(value: number | null | undefined, write: (value: number) => string): string {
  return value === null || value === undefined || !Number.isFinite(value) ? '–' : write(value);
}

/** "16..24 V AC, 10 VA". */
export function ratingWords(rating: Rating): string {
  const volts = rating.volts ? statedRange(rating.volts, 'V') + (rating.system ? ` ${rating.system}` : '') : undefined;
  const figures = [
    volts,
    rating.voltAmperes === undefined ? undefined : stated(rating.voltAmperes, 'VA'),
    rating.watts === undefined ? undefined : stated(rating.watts, 'W'),
    rating.amps === undefined ? undefined : stated(rating.amps, 'A'),
  ];
  return figures.filter((figure) => figure !== undefined).join(', ');
}

export function sizeWords(size: ConductorSize): string {
  return formatGauge(circuitSize(size));
}

/** A size as the conductors' tables take it. */
export function circuitSize(size: ConductorSize): CircuitSize {
  if (size.kind === 'awg') return { awg: size.awg };
  return size.kind === 'area' ? { mm2: size.mm2 } : { diameterMm: size.mm };
}

/** What a type's label says in a few words: its output for a supply, its rating for a device. */
export function typeRating(type: PartType): string {
  const outputs = type.facts.outputs.map((output) => {
    const volts = output.volts === undefined ? undefined : stated(output.volts, `V ${output.system ?? ''}`.trim());
    const power = output.voltAmperes === undefined ? undefined : stated(output.voltAmperes, 'VA');
    const amps = output.amps === undefined ? undefined : stated(output.amps, 'A');
    return [volts, power, amps].filter((figure) => figure !== undefined).join(', ');
  });
  if (outputs.length > 0) return outputs.join('; ');
  return type.facts.rating ? ratingWords(type.facts.rating) : '';
}

/** "18 AWG, red, white". */
export function cableWords(cable: CableType): string {
  return [cable.size ? sizeWords(cable.size) : undefined, ...cable.colours]
    .filter((word) => word !== undefined)
    .join(', ');
}

/** Of a branch circuit: "carries 6.1 A, counted as 6.3 A: 42 % of its 15 A breaker". */
export function branchWords({ totalAmps, countedAmps, breakerAmps, existingAmps, share }: BudgetBranch): string {
  const [carried, counted] = [formatAmps(totalAmps), formatAmps(countedAmps)];
  const as = share === null || counted === carried ? '' : `, counted as ${counted}`;
  const besides = existingAmps === null ? ' besides what it feeds that is not recorded' : '';
  const of = share === null ? '' : `: ${formatShare(share)} of its ${stated(breakerAmps!, 'A')} breaker`;
  return `carries ${carried}${besides}${as}${of}`;
}
