import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '../analysis-types.js';
import { limits } from '../judging/limits.js';
import { asFix, circuitIn, plainSupply, supplyVoltsThatHold } from '../judging/mends.js';
import { stateWords } from '../judging/state-words.js';
import { extreme, studyOf, voltsAcross } from '../judging/study.js';
import { labelVolts, voltRange, volts as voltsWords } from '../judging/units.js';
import { quote, quotedList } from '../judging/words.js';
import { at, type RecordPath } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const deviceOvervoltage = defineCheck({
  code: 'device-overvoltage',
  severity: 'error',
  title: 'A part sees more volts than its label allows',
  forbidsAccepting: true,
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      const tooMuch = worstOfEach(analysis, circuit);
      if (tooMuch.length === 0) continue;
      const supply = plainSupply(analysis, circuit);
      const oddOneOut = othersTakeIt(analysis, circuit, tooMuch);
      const groups = oddOneOut || circuit.supplies.length > 1 ? onTheSameWires(analysis, circuit, tooMuch) : [tooMuch];
      for (const group of groups) {
        const parts = group.map(({ element }) => element.part);
        report({
          path: oddOneOut || supply === undefined ? placeOfPart(analysis, parts[0]!) : at.fact(supply.part, 'output'),
          message: () => sentence(analysis, supply, group),
          related:
            oddOneOut || supply === undefined
              ? circuit.supplies.map((name) => ({ path: at.fact(name, 'output'), message: `${quote(name)} feeds it` }))
              : parts.map((name) => ({ path: placeOfPart(analysis, name), message: `${quote(name)} gets too much` })),
          parts: [...parts, ...circuit.supplies],
          mends: () => {
            const mend = supply && mendOf(analysis, supply, group);
            return mend === undefined ? [] : [asFix(mend)];
          },
        });
      }
    }
  },
});

interface TooMuch {
  readonly element: ResolvedElement;
  readonly solved: Solved;
  readonly volts: number;
  /** The label's most, and what is judged by. */
  readonly most: number;
  readonly limit: number;
  readonly exact: boolean;
}

/** Parts that hang side by side, all contacts at rest: what gives one of them too much gives it to all. */
function onTheSameWires(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  tooMuch: readonly TooMuch[],
): readonly (readonly TooMuch[])[] {
  const study = studyOf(analysis);
  const { bare } = study.joined(study.componentOf(circuit), []);
  const groups = new Map<string, TooMuch[]>();
  for (const one of tooMuch) {
    const key = [one.element.a, one.element.b]
      .map((point) => bare.netOf(point))
      .sort()
      .join(' ');
    const known = groups.get(key);
    if (known === undefined) groups.set(key, [one]);
    else known.push(one);
  }
  return [...groups.values()];
}

/** Parts that see too much, each in its worst state, in order of name. */
function worstOfEach(analysis: Analysis, circuit: CircuitAnalysis): readonly TooMuch[] {
  const byPart = new Map<string, TooMuch>();
  for (const element of studyOf(analysis).elementsOf(circuit, 'load', 'coil', 'lamp')) {
    const found = tooMuchAt(analysis, circuit, element);
    const known = byPart.get(element.part);
    if (found !== undefined && (known === undefined || found.volts > known.volts)) byPart.set(element.part, found);
  }
  return [...byPart.values()];
}

function tooMuchAt(analysis: Analysis, circuit: CircuitAnalysis, element: ResolvedElement): TooMuch | undefined {
  const asks = mostOf(analysis, element);
  if (asks === undefined) return undefined;
  const conditions = asks.exact ? (['nominal', 'high', 'low'] as const) : (['labels'] as const);
  const states = conditions.flatMap((condition) => studyOf(analysis).figures(circuit, condition));
  const worst = extreme(
    states.filter(({ state }) => state.loads === 'idle'),
    (solved) => voltsAcross(solved, element),
    'most',
  );
  const limit = asks.exact ? asks.most : asks.most * limits.tooMuch;
  if (worst === undefined || worst.figure <= limit + 1e-9) return undefined;
  return { element, solved: worst.item, volts: worst.figure, most: asks.most, limit, exact: asks.exact };
}

function mostOf(analysis: Analysis, element: ResolvedElement): { most: number; exact: boolean } | undefined {
  const part = analysis.parts.get(element.part);
  if (part?.facts.limits !== undefined) return { most: part.facts.limits.most, exact: true };
  const own = element.element.kind === 'load' ? undefined : element.ratedVolts;
  const rated = part?.rating?.volts?.most;
  const most = element.element.asRated ? (rated ?? own) : (own ?? rated);
  return most === undefined ? undefined : { most, exact: false };
}

/** Whether some other rated part of the circuit is content with these volts: then the part is the odd one, not the supply. */
function othersTakeIt(analysis: Analysis, circuit: CircuitAnalysis, tooMuch: readonly TooMuch[]): boolean {
  const worst = Math.max(...tooMuch.map(({ volts }) => volts));
  return circuit.devices.some((name) => {
    const part = analysis.parts.get(name);
    const takesPower =
      part?.elements.some(({ element }) => element.kind === 'load' || element.kind === 'coil') ?? false;
    if (!takesPower || tooMuch.some(({ element }) => element.part === name)) return false;
    return (part?.rating?.volts?.least ?? 0) > worst / limits.tooMuch / limits.tooMuch;
  });
}

function placeOfPart(analysis: Analysis, name: string): RecordPath {
  return analysis.parts.get(name)?.stated.has('rating') ? at.fact(name, 'rating') : at.part(name);
}

function sentence(analysis: Analysis, supply: ResolvedElement | undefined, group: readonly TooMuch[]): string {
  const [first] = group;
  const { element, volts, most, limit, exact, solved } = first!;
  const label = analysis.parts.get(element.part)?.rating?.volts;
  const asks = exact
    ? `its data sheet ends at ${labelVolts(most)}`
    : `its label says ${label === undefined ? labelVolts(most) : voltRange(label)} and ${voltsWords(limit)} is the limit`;
  const others = group.slice(1).map(({ element: other }) => other.part);
  const more = others.length === 0 ? '' : ` The same goes for ${quotedList(others)}.`;
  const mend = supply && mendOf(analysis, supply, group);
  const change =
    mend === undefined ? '' : ` A ${mend.words} supply holds; its mains side is for a licensed electrician.`;
  const by = supply === undefined ? '' : ` ${exact ? 'from' : 'by the rating of'} ${quote(supply.part)}`;
  return `${quote(element.part)} gets ${voltsWords(volts)}${by} ${stateWords(analysis, solved.state.closed)}; ${asks}: it can burn out.${more}${change}`;
}

function mendOf(analysis: Analysis, supply: ResolvedElement, group: readonly TooMuch[]) {
  return supplyVoltsThatHold(analysis, supply, group[0]!.most, (after) => {
    const bad = group.some(({ element }) => {
      const circuit = circuitIn(after, element);
      return circuit !== undefined && tooMuchAt(after, circuit, element) !== undefined;
    });
    return bad ? undefined : 0;
  });
}
