import type { Analysis, ResolvedElement } from '../analysis-types.js';
import { judgeLoad, type TooLittle } from '../judging/judge-load.js';
import { limits } from '../judging/limits.js';
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
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const deviceUndervoltage = defineCheck({
  code: 'device-undervoltage',
  severity: ['error', 'warning'],
  title: 'A part gets less volts than it needs',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      for (const load of studyOf(analysis).elementsOf(circuit, 'load')) {
        const { tooLittle } = judgeLoad(analysis, circuit, load);
        if (tooLittle === undefined) continue;
        const cause = causeOf(analysis, circuit, load, tooLittle.solved);
        const path = placeOfShortfall(cause, load);
        report({
          path,
          severity: tooLittle.severity,
          message: () => sentence(analysis, load, tooLittle, cause),
          related: [{ path: at.part(load.part), message: `${quote(load.part)} gets ${volts(tooLittle.volts)}` }].filter(
            (one) => one.path !== path,
          ),
          parts: partsOfShortfall(cause, load),
          mends: () => mendsOfShortfall(analysis, cause),
        });
      }
    }
  },
});

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
