/** Why a load gets too little, where to say so, and what would mend it. */

import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '../analysis-types.js';
import type { Fix } from '../finding.js';
import { at, type RecordPath } from '../place-in-record.js';
import { bypassFor, isChimeCoil, pastElectronicChime, seriesCoil } from './bypassing.js';
import { fedEdges } from './feeding.js';
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
import { isBare } from './topology.js';
import { labelVolts, volts } from './units.js';
import { wayTo } from './way.js';
import { quote, quotedList } from './words.js';

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
  /** Why no wire would do, where that is so: what its current has to pass, or what the supply gives. */
  readonly besides?: string;
  /** A chime's coil out of the way, or that lead of a kit that is not on it. */
  readonly bypass: () => readonly Fix[];
}

/** `needs` is the volts that it falls short of. */
export function causeOf(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  load: ResolvedElement,
  { solved, needs, volts: got }: { readonly solved: Solved; readonly needs: number; readonly volts?: number },
): Cause {
  const coil = seriesCoil(analysis, circuit, load);
  const isOn = solved.solution.problem === undefined && solved.solution.element(load.id)?.on === true;
  const figures = isOn ? solved : undefined;
  const losses = lossesTo(analysis, circuit, figures, load);
  const inParts = partLossesTo(analysis, circuit, figures, load);
  const none = () => undefined;
  const bypass = () => (coil === undefined ? [] : bypassFor(analysis, circuit, coil));
  const chime = coil !== undefined && isChimeCoil(coil) ? coil : undefined;
  if (chime !== undefined) return { losses, inParts, coil: chime, supply: none, both: none, bypass };
  const series = inSeries(analysis, circuit, load, solved.state.closed);
  if (coil !== undefined || series.length > 0) {
    const besides = wrongTerminal(analysis, load, coil === undefined ? series : [coil]);
    return { losses, inParts, besides, supply: none, both: none, bypass: () => [] };
  }
  const trial = (after: Analysis) => workingVolts(after, load, solved);
  const parts = [load.part];
  const gauge = gaugeThatHolds(analysis, parts, losses, trial);
  const both = () => {
    const winding = plainSupply(analysis, circuit);
    return winding && gaugeAndSupplyThatHold(analysis, winding, parts, losses, trial);
  };
  const supply = () => supplyFor(analysis, circuit, load, trial);
  const lost = losses.reduce((sum, loss) => sum + loss.volts, 0) + inParts.reduce((sum, loss) => sum + loss.volts, 0);
  const { windings } = wayTo(analysis, circuit, load, solved.state.closed);
  const most = got === undefined ? openVolts(windings) : got + lost;
  const besides = most < needs ? tooFewVolts(windings, plainSupply(analysis, circuit) === undefined) : undefined;
  return { losses, inParts, gauge, supply, both, besides, bypass: () => [] };
}

/** Loads that its current has to pass as well with these contacts actuated. */
function inSeries(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  load: ResolvedElement,
  closed: readonly string[],
): readonly ResolvedElement[] {
  const study = studyOf(analysis);
  if (study.isFullyFed(load, closed)) return [];
  const held = new Set(closed);
  const edges = study.edgesOf(circuit).filter((edge) => edge.element?.element.kind !== 'contact' || isBare(edge, held));
  if (!fedEdges(edges).has(load.id)) return [];
  return study
    .elementsOf(circuit, 'load')
    .filter((one) => one !== load && !fedEdges(edges.filter(({ id }) => id !== one.id)).has(load.id));
}

function wrongTerminal(analysis: Analysis, { part }: ResolvedElement, series: readonly ResolvedElement[]): string {
  const others = [...new Set(series.map((one) => one.part))].filter((name) => name !== part);
  if (others.length === 0)
    return 'Its current has to pass through two circuits of its own, one after the other: a conductor is on the wrong terminal.';
  const chime = pastElectronicChime(analysis, series);
  if (chime !== undefined) return `Its current has to pass through ${chime}`;
  return `Its current has to pass through ${quotedList(others)} as well: a conductor is on the wrong terminal.`;
}

function openVolts(windings: readonly ResolvedElement[]): number {
  return windings.reduce((sum, { noLoadVolts = Number.POSITIVE_INFINITY }) => sum + noLoadVolts, 0);
}

function tooFewVolts(windings: readonly ResolvedElement[], hasTaps: boolean): string | undefined {
  const [first] = windings;
  const rated = windings.reduce((sum, { ratedVolts = 0 }) => sum + ratedVolts, 0);
  if (first === undefined || rated === 0 || windings.some(({ part }) => part !== first.part)) return undefined;
  const gives = `${quote(first.part)} gives ${labelVolts(rated)}`;
  return hasTaps
    ? `${gives} there by its label: no wire makes up for that, another tap does.`
    : `${gives} by its label: no wire makes up for that, another supply does; its mains side is for a licensed electrician.`;
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

/** Its volts in that same state and condition where all is well with it; undefined where it is not. */
function workingVolts(after: Analysis, load: ResolvedElement, { condition, state }: Solved): number | undefined {
  const circuit = circuitIn(after, load);
  const same = after.elements.get(load.id);
  if (circuit === undefined || same === undefined) return undefined;
  const verdict = judgeLoad(after, circuit, same);
  if (verdict.collapse !== undefined || verdict.tooLittle !== undefined) return undefined;
  const solved = circuit.at(condition, state.closed, state.loads);
  return (solved && voltsAcross(solved, same)) ?? verdict.least;
}

/** The run where its wire is the cause and thicker wire mends it, else the part. */
export function placeOfShortfall(cause: Cause, load: ResolvedElement): RecordPath {
  const [worst] = cause.losses;
  return cause.gauge !== undefined && worst !== undefined ? at.cable(worst.run) : at.part(load.part);
}

/** " 6.1 V is lost in `tx-to-porch` (20 AWG, 38 m): 16 AWG would leave 16.4 V." `wire` says it where there is no drop to tell. */
export function causeWords(analysis: Analysis, cause: Cause, wire?: string): string {
  const { coil, gauge, besides } = cause;
  if (coil !== undefined)
    return ` It is fed through the coil of ${quote(coil.part)}, which a bypass would take out of the way.`;
  const lost = wire ?? lossWords(analysis, cause.losses, cause.inParts);
  const leaves = (mend: Mend) => `${mend.words} would leave ${volts(mend.figure)}`;
  if (gauge !== undefined) {
    const [worst] = cause.losses;
    const isNamed = worst === undefined || gauge.words.includes(' in ') || lost?.includes(quote(worst.run));
    const would = `${gauge.words}${isNamed ? '' : ` in ${quote(worst.run)}`} would leave ${volts(gauge.figure)}`;
    return lost === undefined ? ` ${would}.` : ` ${lost}: ${would}.`;
  }
  const supply = cause.supply();
  const where = lost === undefined || besides !== undefined ? '' : ` ${lost}.`;
  if (supply !== undefined)
    return `${where} A supply of ${leaves(supply)}; its mains side is for a licensed electrician.`;
  if (besides !== undefined) return ` ${besides}`;
  const both = cause.both();
  if (both !== undefined) return `${where} ${leaves(both)}; its mains side is for a licensed electrician.`;
  const [inTheWay] = cause.inParts;
  if (inTheWay !== undefined && inTheWay.ohms > (cause.losses[0]?.ohms ?? 0)) {
    const takeOut = inTheWay.isKit ? '' : `take ${quote(inTheWay.part)} out, or `;
    return `${where} No wire makes up for that: ${takeOut}put in one of fewer ohms.`;
  }
  return `${where} Thicker wire alone won't do: bring the supply nearer.`;
}

/** The supply is tried out only when the others are not enough for whoever asks. */
export function* mendsOfShortfall(cause: Cause): Iterable<Fix> {
  yield* cause.bypass();
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
