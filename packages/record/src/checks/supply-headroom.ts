import { limits } from '../judging/limits.js';
import { askedOf } from '../judging/labels.js';
import { studyOf } from '../judging/study.js';
import { share, voltAmperes } from '../judging/units.js';
import { quote, quotedList } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const supplyHeadroom = defineCheck({
  code: 'supply-headroom',
  severity: 'info',
  title: 'A supply has little left',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).circuits) {
      const asked = askedOf(analysis, circuit);
      if (asked === undefined || asked.total > asked.rated * (1 + 1e-9)) continue;
      const used = asked.total / asked.rated;
      if (used <= limits.headroom + 1e-9) continue;
      const left = asked.rated - asked.total;
      const rest = left < 0.05 ? 'nothing is left for more' : `${voltAmperes(left)} is left for more`;
      const names = asked.asks.map(({ part }) => part);
      report({
        path: at.fact(asked.winding.part, 'output'),
        message: `${quotedList(names)} ${names.length === 1 ? 'takes' : 'take'} ${voltAmperes(asked.total)} of the ${voltAmperes(asked.rated)} of ${quote(asked.winding.part)} by label (${share(used)}): it holds, and ${rest}.`,
        related: names.map((name) => ({ path: at.part(name), message: `${quote(name)} lasts` })),
        parts: [asked.winding.part, ...names],
      });
    }
  },
});
