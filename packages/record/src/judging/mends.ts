/** What would mend a shortfall, tried out on the record: the next gauge, the next size of supply, other volts. */

import { formatAmps } from '@ohmstead/circuit';
import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import type { Fix, RecordChange } from '../finding.js';
import type { ConductorSize } from '../model.js';
import { regionOf } from '../regions/regions.js';
import { worstOverload } from './judge-supply.js';
import { heavyCable, standardAmps, standardAwg, standardMm2 } from './limits.js';
import type { RunLoss } from './losses.js';
import { studyOf } from './study.js';
import { tooMuchOfEach } from './too-much.js';
import { areaOf, labelVolts, sizeWords, voltAmperes } from './units.js';
import { whatIf } from './what-if.js';
import { quote, quotedList } from './words.js';

export interface Mend {
  readonly kind: 'gauge' | 'supply' | 'both';
  /** "16 AWG", "a 16 V 30 VA supply". */
  readonly words: string;
  readonly title: string;
  readonly changes: readonly RecordChange[];
  /** What the trial said of the mended record. */
  readonly figure: number;
}

/** The figure of a mended record when the shortfall is gone, else undefined. */
export type Trial = (after: Analysis) => number | undefined;

/** The first thicker size of the runs that lose most with which the trial passes: the worst run alone, then the two worst. */
export function gaugeThatHolds(
  analysis: Analysis,
  parts: readonly string[],
  losses: readonly RunLoss[],
  trial: Trial,
): Mend | undefined {
  for (const count of [1, 2]) {
    if (losses.length < count) return undefined;
    const runs = losses.slice(0, count).map(({ run }) => run);
    for (const size of thickerThan(analysis.runs.get(runs[0]!)?.cable?.size)) {
      if (!runs.every((run) => isTaken(analysis, run, size))) continue;
      const changes = runs.map((run): RecordChange => ({ kind: 'set-cable', run, size }));
      const figure = trial(whatIf(analysis, parts, changes));
      if (figure === undefined) continue;
      const where = count === 1 ? '' : ` in ${quotedList(runs)}`;
      const title = `Put ${sizeWords(size)} in ${quotedList(runs)}`;
      return { kind: 'gauge', words: `${sizeWords(size)}${where}`, title, changes, figure };
    }
  }
  return undefined;
}

/** Whether the terminals at both ends of a run take the size, as far as they say. */
export function isTaken(analysis: Analysis, run: string, size: ConductorSize): boolean {
  return (analysis.runs.get(run)?.conductors ?? []).every(({ from, to }) =>
    [from, to].every((end) => {
      const accepts = end === undefined ? undefined : analysis.parts.get(end.part)?.facts.accepts;
      const { thinnest, thickest } = accepts ?? {};
      const thickEnough = thinnest === undefined || areaOf(size) >= areaOf(thinnest) * 0.999;
      return thickEnough && (thickest === undefined || areaOf(size) <= areaOf(thickest) * 1.001);
    }),
  );
}

export function thickerThan(size: ConductorSize | undefined): readonly ConductorSize[] {
  if (size === undefined) return [];
  const sizes: ConductorSize[] =
    size.kind === 'awg'
      ? standardAwg.map((awg) => ({ kind: 'awg', awg }))
      : standardMm2.map((mm2) => ({ kind: 'area', mm2 }));
  if (size.kind === 'awg' && size.awg <= heavyCable.fromAwg) sizes.push({ kind: 'awg', awg: heavyCable.awg });
  if (size.kind === 'area' && size.mm2 >= heavyCable.fromMm2) sizes.push({ kind: 'area', mm2: heavyCable.mm2 });
  return sizes.filter((other) => areaOf(other) > areaOf(size) * 1.01);
}

/** The supply of a circuit whose output is a single plain one, with its winding. */
export function plainSupply(analysis: Analysis, circuit: CircuitAnalysis): ResolvedElement | undefined {
  const windings = studyOf(analysis).elementsOf(circuit, 'winding');
  const [winding] = windings;
  if (winding === undefined || windings.length !== 1) return undefined;
  const own = analysis.parts.get(winding.part);
  const others = own?.elements.filter(({ element }) => element.kind === 'winding') ?? [];
  return others.length === 1 ? winding : undefined;
}

/** VA at these volts that supplies of its kind are sold in. */
export function standardSizes(analysis: Analysis, supply: ResolvedElement, volts: number): readonly number[] {
  return isSoldByAmps(supply)
    ? standardAmps.map((one) => one * volts)
    : regionOf(analysis.installation.profile).standardVoltAmperes;
}

/** "16 V 30 VA", "12 V 2 A". */
export function outputWords(supply: ResolvedElement, volts: number, size: number): string {
  return `${labelVolts(volts)} ${isSoldByAmps(supply) ? formatAmps(size / volts) : voltAmperes(size)}`;
}

/** Another output of the supply, by what its label says. */
export function outputChange(supply: ResolvedElement, volts: number, size: number): RecordChange {
  const amps = isSoldByAmps(supply) ? { amps: size / volts } : {};
  return { kind: 'set-output', part: supply.part, volts, voltAmperes: size, ...amps };
}

function isSoldByAmps({ system }: ResolvedElement): boolean {
  return system === 'DC';
}

/** The next standard size of the same volts with which the trial passes. */
export function supplySizeThatHolds(
  analysis: Analysis,
  supply: ResolvedElement,
  trial: Trial,
  atLeast = 0,
): Mend | undefined {
  const { ratedVolts, ratedVoltAmperes = 0 } = supply;
  if (ratedVolts === undefined) return undefined;
  for (const size of standardSizes(analysis, supply, ratedVolts)) {
    if (size <= ratedVoltAmperes + 1e-9 || size < atLeast - 1e-9) continue;
    const mend = trySupply(analysis, supply, ratedVolts, size, trial);
    if (mend !== undefined) return mend;
  }
  return undefined;
}

/** The smallest standard size of the same volts that passes together with thicker wire in the worst run, and the thinnest wire that does with it. */
export function gaugeAndSupplyThatHold(
  analysis: Analysis,
  supply: ResolvedElement,
  parts: readonly string[],
  losses: readonly RunLoss[],
  trial: Trial,
): Mend | undefined {
  const [worst] = losses;
  const { ratedVolts, ratedVoltAmperes = 0 } = supply;
  if (worst === undefined || ratedVolts === undefined) return undefined;
  const sizes = thickerThan(analysis.runs.get(worst.run)?.cable?.size).filter((one) =>
    isTaken(analysis, worst.run, one),
  );
  const attempt = (size: ConductorSize, voltAmperesOfIt: number): Mend | undefined => {
    const changes: readonly RecordChange[] = [
      { kind: 'set-cable', run: worst.run, size },
      outputChange(supply, ratedVolts, voltAmperesOfIt),
    ];
    const figure = trial(whatIf(analysis, [...parts, supply.part], changes));
    if (figure === undefined) return undefined;
    const output = outputWords(supply, ratedVolts, voltAmperesOfIt);
    const words = `${sizeWords(size)} with a supply of ${output}`;
    const title = `Put ${sizeWords(size)} in ${quote(worst.run)} and change ${quote(supply.part)} to ${output}`;
    return { kind: 'both', words, title, changes, figure };
  };
  const thickest = sizes.at(-1);
  if (thickest === undefined) return undefined;
  const enough = standardSizes(analysis, supply, ratedVolts).find(
    (one) => one > ratedVoltAmperes + 1e-9 && attempt(thickest, one) !== undefined,
  );
  if (enough === undefined) return undefined;
  for (const size of sizes) {
    const mend = attempt(size, enough);
    if (mend !== undefined) return mend;
  }
  return undefined;
}

/** Standard volts, nearest to `wanted` first, of at least the present size, with which the trial passes. */
export function supplyVoltsThatHold(
  analysis: Analysis,
  supply: ResolvedElement,
  wanted: number,
  trial: Trial,
): Mend | undefined {
  const near = [...regionOf(analysis.installation.profile).standardVolts].sort(
    (one, other) => Math.abs(one - wanted) - Math.abs(other - wanted),
  );
  const { ratedVolts, ratedVoltAmperes = 10 } = supply;
  for (const volts of near.slice(0, 3)) {
    if (volts === ratedVolts) continue;
    // What is sold by its amps is replaced by one of as many.
    const present = isSoldByAmps(supply) && ratedVolts ? (ratedVoltAmperes / ratedVolts) * volts : ratedVoltAmperes;
    const bigger = standardSizes(analysis, supply, volts).find((other) => other > present + 1e-9);
    for (const size of bigger === undefined ? [present] : [present, bigger]) {
      const mend = trySupply(analysis, supply, volts, size, trial);
      if (mend !== undefined) return mend;
    }
  }
  return undefined;
}

function trySupply(
  analysis: Analysis,
  supply: ResolvedElement,
  volts: number,
  size: number,
  trial: Trial,
): Mend | undefined {
  const changes: RecordChange[] = [outputChange(supply, volts, size)];
  const after = whatIf(analysis, [supply.part], changes);
  const figure = trial(after);
  if (figure === undefined || (volts !== supply.ratedVolts && isTooMuchFor(after, supply))) return undefined;
  const words = outputWords(supply, volts, size);
  return { kind: 'supply', words, title: `Change ${quote(supply.part)} to ${words}`, changes, figure };
}

/** Whether some part on the supply gets more volts than it may have. */
function isTooMuchFor(after: Analysis, supply: ResolvedElement): boolean {
  const circuit = circuitIn(after, supply);
  return circuit !== undefined && tooMuchOfEach(after, circuit).length > 0;
}

/** Whether the supply carries what is drawn from it after some changes. */
export function carriesItsLoads(after: Analysis, supply: ResolvedElement): boolean {
  const same = after.elements.get(supply.id);
  const around = circuitIn(after, supply);
  return same !== undefined && around !== undefined && worstOverload(after, around, same) === undefined;
}

/** Goes on after what another supply would do. */
export function cautionOf(mend: Mend | undefined): string {
  return mend === undefined || mend.kind === 'gauge' ? '' : '; its mains side is for a licensed electrician';
}

export function asFix({ title, changes }: Mend): Fix {
  return { title, changes };
}

/** The same element's circuit in another analysis. */
export function circuitIn(after: Analysis, element: ResolvedElement): CircuitAnalysis | undefined {
  return after.circuitOfElement(element.id);
}
