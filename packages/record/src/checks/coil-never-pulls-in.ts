import { type Group, grouped } from '../grouped.js';
import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { judgePullIn, type PullInShortfall } from '../judging/judge-armature.js';
import { lossesTo, lossWords } from '../judging/losses.js';
import {
  asFix,
  cautionOf,
  gaugeThatHolds,
  type Mend,
  plainSupply,
  supplySizeThatHolds,
  supplyVoltsThatHold,
} from '../judging/mends.js';
import { conditionWords, loadWords, stateWords } from '../judging/state-words.js';
import { studyOf } from '../judging/study.js';
import { volts } from '../judging/units.js';
import { quote, quotedList } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const coilNeverPullsIn = defineCheck({
  code: 'coil-never-pulls-in',
  severity: ['error', 'warning'],
  title: 'What should pull a coil in leaves it short of volts',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      const found = studyOf(analysis)
        .elementsOf(circuit, 'coil')
        .flatMap((coil): readonly Short[] => {
          const short = judgePullIn(analysis, coil);
          return short === undefined ? [] : [{ coil, short }];
        });
      for (const group of alike(analysis, circuit, found)) {
        const [{ coil, short }, ...others] = group;
        const mends = () => mendsOf(analysis, circuit, group);
        const run = lossesTo(analysis, circuit, short.solved, coil)[0]?.run;
        report({
          path: at.part(coil.part),
          severity: short.severity,
          message: () => sentence(analysis, circuit, group, mends()[0]),
          related: [
            ...(run === undefined ? [] : [{ path: at.cable(run), message: `${quote(run)} is on its way` }]),
            ...others.map((one) => ({
              path: at.part(one.coil.part),
              message: `${quote(one.coil.part)} gets ${volts(one.short.volts)}`,
            })),
          ],
          parts: [coil.part, ...(run === undefined ? [] : [run]), ...others.map((one) => one.coil.part)],
          mends: () => mends().map(asFix),
        });
      }
    }
  },
});

interface Short {
  readonly coil: ResolvedElement;
  readonly short: PullInShortfall;
}

/** Coils that are short for one cause, and the one with the smallest share of its volts first. */
type Alike = Readonly<Group<Short>>;

/**
 * The cause is the run that takes most where the coil would pull in without what wire takes; what stays short even so is the supply's doing,
 * for all coils on it.
 */
function alike(analysis: Analysis, circuit: CircuitAnalysis, found: readonly Short[]): readonly Alike[] {
  const share = ({ short }: Short) => short.volts / short.pullsInFrom;
  const sorted = [...found].sort((a, b) => share(a) - share(b));
  const groups = grouped(sorted, ({ coil, short: { severity, solved, pullsInFrom, volts: got } }) => {
    const losses = lossesTo(analysis, circuit, solved, coil);
    const lost = losses.reduce((sum, loss) => sum + loss.volts, 0);
    return `${severity} ${got + lost < pullsInFrom ? '' : (losses[0]?.run ?? '')}`;
  });
  return [...groups.values()];
}

function mendsOf(analysis: Analysis, circuit: CircuitAnalysis, group: Alike): readonly Mend[] {
  const holds = (after: Analysis) => {
    const pullIn = ({ coil }: Short) => {
      const same = after.elements.get(coil.id);
      return same !== undefined && judgePullIn(after, same) === undefined;
    };
    return group.every(pullIn) ? group[0].short.pullsInFrom : undefined;
  };
  const supply = plainSupply(analysis, circuit);
  const parts = group.map(({ coil }) => coil.part);
  const gauge = gaugeThatHolds(
    analysis,
    parts,
    lossesTo(analysis, circuit, group[0].short.solved, group[0].coil),
    holds,
  );
  const wanted = group[0].coil.ratedVolts;
  const bigger =
    supply &&
    (supplySizeThatHolds(analysis, supply, holds) ??
      (wanted === undefined ? undefined : supplyVoltsThatHold(analysis, supply, wanted, holds)));
  return [gauge, bigger].filter((mend) => mend !== undefined);
}

function sentence(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  [{ coil, short }, ...others]: Alike,
  mend: Mend | undefined,
): string {
  const { solved, pullsInFrom, condition } = short;
  const when = stateWords(analysis, solved.state.closed) + loadWords(solved.state);
  const corner = condition === 'nominal' ? '' : `, ${conditionWords(condition)}`;
  const inrush = coil.inrushVoltAmperes === undefined ? '' : ' as it pulls in';
  const lost = lossWords(analysis, lossesTo(analysis, circuit, solved, coil));
  const would =
    mend === undefined
      ? undefined
      : mend.kind === 'supply'
        ? `${lost === undefined ? 'A' : 'a'} supply of ${mend.words} holds`
        : `${mend.words} holds`;
  const tail = [lost, would].filter((words) => words !== undefined).join(': ') + cautionOf(mend);
  const same = others.length === 0 ? '' : ` The same goes for ${quotedList(others.map((one) => one.coil.part))}.`;
  return `${quote(coil.part)} gets ${volts(short.volts)}${inrush} ${when}${corner}; it needs ${volts(pullsInFrom)} and chatters or stays put below.${tail === '' ? '' : ` ${tail}.`}${same}`;
}
