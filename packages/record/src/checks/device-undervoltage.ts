import { type Group, grouped, leastFirst } from '../grouped.js';
import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { seriesCoil } from '../judging/bypassing.js';
import { worksOnItsLabel } from '../judging/feeding.js';
import { judgeLoad, type TooLittle } from '../judging/judge-load.js';
import { limits } from '../judging/limits.js';
import { lossesTo } from '../judging/losses.js';
import {
  type Cause,
  causeOf,
  causeWords,
  mendsOfShortfall,
  partsOfShortfall,
  placeOfShortfall,
} from '../judging/shortfall.js';
import { conditionWords, momentWords } from '../judging/state-words.js';
import { studyOf } from '../judging/study.js';
import { labelVolts, share, volts } from '../judging/units.js';
import { quote, quotedList } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const deviceUndervoltage = defineCheck({
  code: 'device-undervoltage',
  severity: ['error', 'warning'],
  title: 'A part gets less volts than it needs',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      const found: Shortfall[] = [];
      for (const load of studyOf(analysis).elementsOf(circuit, 'load', 'lamp', 'coil')) {
        if (!worksOnItsLabel(analysis, load)) continue;
        const { tooLittle } = judgeLoad(analysis, circuit, load);
        if (tooLittle !== undefined) found.push({ load, tooLittle });
      }
      for (const [{ load, tooLittle }, ...others] of alike(analysis, circuit, found)) {
        const cause = causeOf(analysis, circuit, load, { ...tooLittle, needs: tooLittle.limit });
        const path = placeOfShortfall(cause, load);
        report({
          path,
          severity: tooLittle.severity,
          message: () => sentence(analysis, load, tooLittle, cause) + sameFor(load, others),
          related: [{ load, tooLittle }, ...others]
            .map((one) => ({
              path: at.part(one.load.part),
              message: `${quote(one.load.part)} gets ${volts(one.tooLittle.volts)}`,
            }))
            .filter((one) => one.path !== path),
          parts: [...partsOfShortfall(cause, load), ...others.map((one) => one.load.part)],
          mends: () => mendsOfShortfall(cause),
        });
      }
    }
  },
});

interface Shortfall {
  readonly load: ResolvedElement;
  readonly tooLittle: TooLittle;
}

/**
 * Parts that are short for one and the same cause are one finding; the one with the least volts tells it. The cause is the run that takes
 * most where they would have enough without what wire takes, and else the supply.
 */
function alike(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  found: readonly Shortfall[],
): readonly Readonly<Group<Shortfall>>[] {
  const groups = grouped(found, ({ load, tooLittle }) => {
    const losses = lossesTo(analysis, circuit, tooLittle.solved, load);
    const lost = losses.reduce((sum, loss) => sum + loss.volts, 0);
    const run = tooLittle.volts + lost < tooLittle.limit ? undefined : losses[0]?.run;
    return seriesCoil(analysis, circuit, load) === undefined ? `${tooLittle.severity} ${run ?? ''}` : load.part;
  });
  return [...groups.values()].map((group) => leastFirst(group, ({ tooLittle }) => tooLittle.volts));
}

function sameFor({ part }: ResolvedElement, others: readonly Shortfall[]): string {
  const names = [...new Set(others.map(({ load }) => load.part))].filter((name) => name !== part);
  return names.length === 0 ? '' : ` The same goes for ${quotedList(names)}.`;
}

function sentence(analysis: Analysis, load: ResolvedElement, found: TooLittle, cause: Cause): string {
  const { state, condition } = found;
  const when = [momentWords(analysis, state), ...(condition === 'nominal' ? [] : [conditionWords(condition)])].join(
    ', ',
  );
  return `${quote(load.part)} gets ${volts(found.volts)} ${when}; ${asks(load, found)}.${causeWords(analysis, cause)}`;
}

function asks(load: ResolvedElement, { limit, label, exact, condition }: TooLittle): string {
  if (exact) return `its data sheet asks for ${labelVolts(label)} or more`;
  if (limit === load.staysOnFrom) return `it cuts out below ${labelVolts(limit)}`;
  const allowance = condition === 'low' ? limits.tooLittleLow : limits.tooLittleNominal;
  return `it needs ${volts(limit)}, ${share(allowance)} of the ${labelVolts(label)} on its label`;
}
