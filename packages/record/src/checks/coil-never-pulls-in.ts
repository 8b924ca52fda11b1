import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { judgePullIn, type PullInShortfall } from '../judging/judge-armature.js';
import { lossesTo, lossWords } from '../judging/losses.js';
import { asFix, gaugeThatHolds, type Mend, plainSupply, supplySizeThatHolds } from '../judging/mends.js';
import { conditionWords, loadWords, stateWords } from '../judging/state-words.js';
import { studyOf } from '../judging/study.js';
import { volts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const coilNeverPullsIn = defineCheck({
  code: 'coil-never-pulls-in',
  severity: ['error', 'warning'],
  title: 'What should pull a coil in leaves it short of volts',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      for (const coil of studyOf(analysis).elementsOf(circuit, 'coil')) {
        const short = judgePullIn(analysis, coil);
        if (short === undefined) continue;
        const mends = () => mendsOf(analysis, circuit, coil, short);
        const run = lossesTo(analysis, circuit, short.solved, undefined)[0]?.run;
        report({
          path: at.part(coil.part),
          severity: short.severity,
          message: () => sentence(analysis, circuit, coil, short, mends()[0]),
          related: run === undefined ? [] : [{ path: at.cable(run), message: `${quote(run)} is on its way` }],
          parts: [coil.part, ...(run === undefined ? [] : [run])],
          mends: () => mends().map(asFix),
        });
      }
    }
  },
});

function mendsOf(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  coil: ResolvedElement,
  short: PullInShortfall,
): readonly Mend[] {
  const holds = (after: Analysis) => {
    const same = after.elements.get(coil.id);
    if (same === undefined) return undefined;
    return judgePullIn(after, same) === undefined ? short.pullsInFrom : undefined;
  };
  const supply = plainSupply(analysis, circuit);
  const gauge = gaugeThatHolds(analysis, [coil.part], lossesTo(analysis, circuit, short.solved, undefined), holds);
  const bigger = supply && supplySizeThatHolds(analysis, supply, holds);
  return [gauge, bigger].filter((mend) => mend !== undefined);
}

function sentence(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  coil: ResolvedElement,
  short: PullInShortfall,
  mend: Mend | undefined,
): string {
  const { solved, pullsInFrom, condition } = short;
  const when = stateWords(analysis, solved.state.closed) + loadWords(solved.state);
  const corner = condition === 'nominal' ? '' : `, ${conditionWords(condition)}`;
  const inrush = coil.inrushVoltAmperes === undefined ? '' : ' as it pulls in';
  const lost = lossWords(analysis, lossesTo(analysis, circuit, solved, undefined));
  const would =
    mend === undefined
      ? undefined
      : mend.kind === 'supply'
        ? `${lost === undefined ? 'A' : 'a'} supply of ${mend.words} holds`
        : `${mend.words} holds`;
  const tail = [lost, would].filter((words) => words !== undefined).join(': ');
  return `${quote(coil.part)} gets ${volts(short.volts)}${inrush} ${when}${corner}; it needs ${volts(pullsInFrom)} and chatters or stays put below.${tail === '' ? '' : ` ${tail}.`}`;
}
