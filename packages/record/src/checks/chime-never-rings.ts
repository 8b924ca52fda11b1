import { type Group, grouped, leastFirst, putUnder } from '../grouped.js';
import { type Analysis, type CircuitAnalysis, pointOf, type ResolvedElement } from '../analysis-types.js';
import { seriesCoil } from '../judging/bypassing.js';
import { fedEdges, openTerminal } from '../judging/feeding.js';
import { type CoilShortfall, judgeRinging } from '../judging/judge-coil.js';
import { lossesTo, lossWords, partLossesTo } from '../judging/losses.js';
import {
  asFix,
  cautionOf,
  circuitIn,
  gaugeAndSupplyThatHold,
  gaugeThatHolds,
  type Mend,
  plainSupply,
  supplySizeThatHolds,
} from '../judging/mends.js';
import { missingConductors } from '../judging/missing-conductor.js';
import { conditionWords, loadWords, stateWords } from '../judging/state-words.js';
import { extreme, studyOf, voltsAcross } from '../judging/study.js';
import { labelVolts, share, volts } from '../judging/units.js';
import { quote, quotedList } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const chimeNeverRings = defineCheck({
  code: 'chime-never-rings',
  severity: ['error', 'warning'],
  title: 'What should ring a chime does not ring it',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).circuits) {
      const measured = studyOf(analysis).measured.includes(circuit);
      const silent = new Map<string, Group<ResolvedElement>>();
      const weak: Weak[] = [];
      for (const coil of studyOf(analysis).elementsOf(circuit, 'coil')) {
        if (coil.ringsFromVolts === undefined) continue;
        if (nothingRings(analysis, circuit, coil)) {
          putUnder(silent, coil.part, coil);
          continue;
        }
        const short = measured ? judgeRinging(analysis, circuit, coil) : undefined;
        if (short !== undefined) weak.push({ coil, short, ...causeOf(analysis, circuit, coil, short) });
      }
      // Coils that are weak for one and the same cause are one finding, the weakest first.
      for (const group of grouped(weak, ({ short, run }) => `${short.severity} ${run ?? ''}`).values()) {
        const [{ coil, short, mends, run }, ...others] = leastFirst(group, (one) => one.short.volts);
        const alike = [...new Set(others.map((one) => one.coil.part))].filter((part) => part !== coil.part);
        const more = alike.length === 0 ? '' : ` ${quotedList(alike)} ${alike.length === 1 ? 'is' : 'are'} as weak.`;
        report({
          path: run === undefined ? at.part(coil.part) : at.cable(run),
          severity: short.severity,
          message: () => tooWeak(analysis, circuit, coil, short, mends[0]) + more,
          related: [coil.part, ...alike]
            .filter((part) => run !== undefined || part !== coil.part)
            .map((part) => ({ path: at.part(part), message: `${quote(part)} stays silent` })),
          parts: [coil.part, ...(run === undefined ? [] : [run]), ...alike],
          mends: () => mends.map(asFix),
        });
      }
      for (const [part, coils] of silent) {
        report({
          path: at.part(part),
          message: () => unreached(analysis, circuit, part, coils),
          parts: [part],
          mends: () => missingConductors(analysis, [part]),
        });
      }
    }
  },
});

interface Weak {
  readonly coil: ResolvedElement;
  readonly short: CoilShortfall;
  readonly mends: readonly Mend[];
  /** The run whose wire is the cause. */
  readonly run: string | undefined;
}

function causeOf(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  coil: ResolvedElement,
  short: CoilShortfall,
): Pick<Weak, 'mends' | 'run'> {
  const mends = mendsOf(analysis, circuit, coil, short);
  const isWire = mends.some(({ kind }) => kind === 'gauge');
  return { mends, run: isWire ? lossesTo(analysis, circuit, short.solved, coil)[0]?.run : undefined };
}

/** A coil in a loop with a supply that no contact of any setting puts across it. */
function nothingRings(analysis: Analysis, circuit: CircuitAnalysis, coil: ResolvedElement): boolean {
  const study = studyOf(analysis);
  if (!fedEdges(study.edgesOf(circuit)).has(coil.id)) return false;
  if (study.isBypassed(coil, []) || study.isFullyFed(coil, [])) return false;
  if (study.hasLooseEnd(study.componentOf(circuit)) || circuit.circuit.sources.length === 0) return false;
  if (study.ringersOf(coil, circuit).length > 0 || study.wouldRingBySetting(coil)) return false;
  if (circuit.states.some(({ closed }) => pressedIn(analysis, closed) < 2 && study.isFullyFed(coil, closed)))
    return false;
  const trickles = study.elementsOf(circuit, 'load').some((load) => seriesCoil(analysis, circuit, load) === coil);
  return !trickles;
}

function pressedIn({ momentary }: Analysis, closed: readonly string[]): number {
  return closed.filter((contact) => momentary.has(contact)).length;
}

/** The least set of contacts with which a coil rings that no single one rings. */
function ringsTogether(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  coil: ResolvedElement,
): readonly string[] | undefined {
  return circuit.states.find(({ closed }) => studyOf(analysis).isFullyFed(coil, closed))?.closed;
}

function unreached(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  part: string,
  coils: readonly ResolvedElement[],
): string {
  const [coil] = coils;
  const from = coil!.ringsFromVolts!;
  const best = studyOf(analysis).measured.includes(circuit)
    ? extreme(
        coils.flatMap((one) =>
          studyOf(analysis)
            .figures(circuit, 'nominal')
            .map((solved) => ({ solved, one })),
        ),
        ({ solved, one }) => voltsAcross(solved, one),
        'most',
      )
    : undefined;
  const figure =
    best === undefined
      ? ''
      : ` It gets ${volts(best.figure)} at most, ${stateWords(analysis, best.item.solved.state.closed)}, and rings from ${volts(from)}.`;
  const noContact =
    circuit.circuit.contacts.length === 0 ? 'there is no button in its circuit' : 'no button puts the supply across it';
  const where = coils.map(({ element }) => `${quote(element.a)}-${quote(element.b)}`).join(' and ');
  const together = ringsTogether(analysis, circuit, coil!);
  if (together !== undefined)
    return `${quote(part)} rings (${where}) only ${stateWords(analysis, together)}: no push alone puts the supply across it. Look for a conductor of a push that is on the wrong splice or terminal.`;
  return `${quote(part)} never rings (${where}): ${noContact}.${figure}${openWords(analysis, part)}`;
}

function openWords(analysis: Analysis, name: string): string {
  const part = analysis.parts.get(name);
  const open = part === undefined ? undefined : openTerminal(analysis, part);
  if (open === undefined) return ' Something other than wire is in its way.';
  return ` Nothing is landed on ${quote(pointOf(open))}.`;
}

function mendsOf(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  coil: ResolvedElement,
  short: CoilShortfall,
): readonly Mend[] {
  const trial = (after: Analysis) => {
    const around = circuitIn(after, coil);
    const same = after.elements.get(coil.id);
    if (around === undefined || same === undefined || judgeRinging(after, around, same) !== undefined) return undefined;
    const solved = around.at('nominal', short.solved.state.closed, short.solved.state.loads);
    return solved === undefined ? undefined : voltsAcross(solved, same);
  };
  const losses = lossesTo(analysis, circuit, short.solved, coil);
  const supply = plainSupply(analysis, circuit);
  const gauge = gaugeThatHolds(analysis, [coil.part], losses, trial);
  const bigger = supply && supplySizeThatHolds(analysis, supply, trial);
  const alone = [gauge, bigger].filter((mend) => mend !== undefined);
  if (alone.length > 0 || supply === undefined) return alone;
  const both = gaugeAndSupplyThatHold(analysis, supply, [coil.part], losses, trial);
  return both === undefined ? [] : [both];
}

function tooWeak(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  coil: ResolvedElement,
  { solved, volts: got, ringsFrom, condition }: CoilShortfall,
  mend: Mend | undefined,
): string {
  const rated = coil.ratedVolts ?? 0;
  const of = rated > 0 ? `, ${share(ringsFrom / rated)} of its ${labelVolts(rated)}` : '';
  const corner = condition === 'nominal' ? '' : `, ${conditionWords(condition)},`;
  const losses = lossesTo(analysis, circuit, solved, coil);
  // Where a bigger supply is what mends it, wire that takes little of the shortfall is beside the point.
  const isWire = mend?.kind !== 'supply' || (losses[0]?.volts ?? 0) > (ringsFrom - got) / 4;
  const lost = isWire ? lossWords(analysis, losses, partLossesTo(analysis, circuit, solved, coil)) : undefined;
  const would =
    mend === undefined
      ? undefined
      : `${mend.kind === 'supply' ? `${lost === undefined ? 'A' : 'a'} supply of ${mend.words}` : mend.words} would leave ${volts(mend.figure)}`;
  const tail = [lost, would].filter((words) => words !== undefined).join(': ') + cautionOf(mend);
  const when = stateWords(analysis, solved.state.closed) + loadWords(solved.state);
  return `${quote(coil.part)} gets ${volts(got)} ${when}${corner} and rings from ${volts(ringsFrom)}${of}.${tail === '' ? '' : ` ${tail}.`}`;
}
