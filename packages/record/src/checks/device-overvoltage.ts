import { grouped } from '../grouped.js';
import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { limits } from '../judging/limits.js';
import { asFix, plainSupply, supplyVoltsThatHold } from '../judging/mends.js';
import { stateWords } from '../judging/state-words.js';
import { studyOf } from '../judging/study.js';
import { type TooMuch, tooMuchOfEach } from '../judging/too-much.js';
import { labelVolts, voltRange, volts as voltsWords } from '../judging/units.js';
import { quote, quotedList } from '../judging/words.js';
import { at, type RecordPath } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const deviceOvervoltage = defineCheck({
  code: 'device-overvoltage',
  severity: 'error',
  title: 'A part sees more volts than its label allows',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      const tooMuch = tooMuchOfEach(analysis, circuit);
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

/** Parts that hang side by side, all contacts at rest: what gives one of them too much gives it to all. */
function onTheSameWires(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  tooMuch: readonly TooMuch[],
): readonly (readonly TooMuch[])[] {
  const study = studyOf(analysis);
  const { bare } = study.joined(study.componentOf(circuit), []);
  const groups = grouped(tooMuch, ({ element: { a, b } }) =>
    [a, b]
      .map((point) => bare.netOf(point))
      .sort()
      .join(' '),
  );
  return [...groups.values()];
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
  return supplyVoltsThatHold(analysis, supply, group[0]!.most, () => 0);
}
