/** Why a load gets too little, where to say so, and what would mend it. */

import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '../analysis-types.js';
import type { Fix } from '../finding.js';
import { at, type RecordPath } from '../place-in-record.js';
import { bypassFor, seriesCoil } from './bypassing.js';
import { judgeLoad } from './judge-load.js';
import { lossesTo, lossWords, type PartLoss, partLossesTo, type RunLoss } from './losses.js';
import {
  asFix,
  circuitIn,
  gaugeAndSupplyThatHold,
  gaugeThatHolds,
  type Mend,
  plainSupply,
  supplySizeThatHolds,
  supplyVoltsThatHold,
  type Trial,
} from './mends.js';
import { studyOf, voltsAcross } from './study.js';
import { volts } from './units.js';
import { quote } from './words.js';

export interface Cause {
  /** The run whose wire takes most, where thicker wire alone would mend it. */
  readonly gauge?: Mend;
  /** A supply that would hold; tried out only when asked for. */
  readonly supply: () => Mend | undefined;
  /** Thicker wire and a bigger supply, where neither alone holds; tried out only when asked for. */
  readonly both: () => Mend | undefined;
  readonly losses: readonly RunLoss[];
  readonly inParts: readonly PartLoss[];
  /** A chime's coil in the way. */
  readonly coil?: ResolvedElement;
}

export function causeOf(analysis: Analysis, circuit: CircuitAnalysis, load: ResolvedElement, solved: Solved): Cause {
  const coil = seriesCoil(analysis, circuit, load);
  const figures = solved.solution.problem === undefined ? solved : undefined;
  const element = figures?.solution.element(load.id)?.on ? load : undefined;
  const losses = lossesTo(analysis, circuit, element === undefined ? undefined : figures, element);
  const inParts = partLossesTo(analysis, circuit, element === undefined ? undefined : figures, load);
  if (coil !== undefined) return { losses, inParts, coil, supply: () => undefined, both: () => undefined };
  const trial = (after: Analysis) => workingVolts(after, load);
  const parts = [load.part];
  const gauge = gaugeThatHolds(analysis, parts, losses, trial);
  const both = () => {
    const winding = plainSupply(analysis, circuit);
    return winding && gaugeAndSupplyThatHold(analysis, winding, parts, losses, trial);
  };
  return { losses, inParts, gauge, supply: () => supplyFor(analysis, circuit, load, trial), both };
}

function supplyFor(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  load: ResolvedElement,
  trial: Trial,
): Mend | undefined {
  const winding = plainSupply(analysis, circuit);
  const least = analysis.parts.get(load.part)?.rating?.volts?.least;
  if (winding === undefined) return undefined;
  const bigger = supplySizeThatHolds(analysis, winding, trial);
  return bigger ?? (least === undefined ? undefined : supplyVoltsThatHold(analysis, winding, least, trial));
}

/** The least volts of a load in lasting states where all is well with it; undefined where it is not. */
function workingVolts(after: Analysis, load: ResolvedElement): number | undefined {
  const circuit = circuitIn(after, load);
  const same = after.elements.get(load.id);
  if (circuit === undefined || same === undefined) return undefined;
  const verdict = judgeLoad(after, circuit, same);
  if (verdict.collapse !== undefined || verdict.tooLittle !== undefined) return undefined;
  const study = studyOf(after);
  const lasting = study.figures(circuit, 'nominal').filter(({ state }) => study.lasts(state));
  const seen = lasting.flatMap((one) => voltsAcross(one, same) ?? []);
  return seen.length === 0 ? undefined : Math.min(...seen);
}

/** The run where its wire is the cause and thicker wire mends it, else the part. */
export function placeOfShortfall(cause: Cause, load: ResolvedElement): RecordPath {
  const [worst] = cause.losses;
  return cause.gauge !== undefined && worst !== undefined ? at.cable(worst.run) : at.part(load.part);
}

/** " 6.1 V is lost in `tx-to-porch` (20 AWG, 38 m): 16 AWG would leave 16.4 V." `wire` says it where there is no drop to tell. */
export function causeWords(analysis: Analysis, cause: Cause, wire?: string): string {
  const { coil, gauge } = cause;
  if (coil !== undefined)
    return ` It is fed through the coil of ${quote(coil.part)}, which a bypass would take out of the way.`;
  const lost = wire ?? lossWords(analysis, cause.losses, cause.inParts);
  const leaves = (mend: Mend) => `${mend.words} would leave ${volts(mend.figure)}`;
  if (gauge !== undefined) return lost === undefined ? ` ${leaves(gauge)}.` : ` ${lost}: ${leaves(gauge)}.`;
  const supply = cause.supply();
  const where = lost === undefined ? '' : ` ${lost}.`;
  if (supply !== undefined)
    return `${where} A supply of ${leaves(supply)}; its mains side is for a licensed electrician.`;
  const both = cause.both();
  if (both !== undefined) return `${where} ${leaves(both)}; its mains side is for a licensed electrician.`;
  const [inTheWay] = cause.inParts;
  if (inTheWay !== undefined && inTheWay.ohms > (cause.losses[0]?.ohms ?? 0))
    return `${where} No wire makes up for that: take ${quote(inTheWay.part)} out, or put in one of fewer ohms.`;
  return `${where} Thicker wire alone won't do: bring the supply nearer.`;
}

/** The supply is tried out only when the others are not enough for whoever asks. */
export function* mendsOfShortfall(analysis: Analysis, cause: Cause): Iterable<Fix> {
  if (cause.coil !== undefined) yield* bypassFor(analysis, cause.coil);
  if (cause.gauge !== undefined) yield asFix(cause.gauge);
  const supply = cause.supply();
  if (supply !== undefined) yield asFix(supply);
  if (cause.gauge !== undefined || supply !== undefined) return;
  const both = cause.both();
  if (both !== undefined) yield asFix(both);
}

/** Parts that the shortfall is about: the load's, the runs that take most, the coil's. */
export function partsOfShortfall(cause: Cause, load: ResolvedElement): readonly string[] {
  const runs = cause.losses.slice(0, 1).map(({ run }) => run);
  return [
    load.part,
    ...(cause.gauge === undefined ? [] : runs),
    ...(cause.coil === undefined ? [] : [cause.coil.part]),
  ];
}
