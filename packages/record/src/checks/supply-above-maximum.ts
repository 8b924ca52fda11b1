import { askedOf } from '../judging/labels.js';
import { studyOf } from '../judging/study.js';
import { voltAmperes } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const supplyAboveMaximum = defineCheck({
  code: 'supply-above-maximum',
  severity: 'warning',
  title: "A supply is bigger than a part's label allows",
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).circuits) {
      const asked = askedOf(analysis, circuit);
      if (asked === undefined) continue;
      for (const name of circuit.devices) {
        const most = analysis.parts.get(name)?.needs?.most;
        if (most === undefined || asked.rated <= most * (1 + 1e-9)) continue;
        report({
          path: at.fact(name, 'needs'),
          message: `${quote(name)} names a supply of ${voltAmperes(most)} at most, and ${quote(asked.winding.part)} is one of ${voltAmperes(asked.rated)}: its maker limits what a fault inside it can draw.`,
          related: [{ path: at.fact(asked.winding.part, 'output'), message: voltAmperes(asked.rated) }],
          parts: [name, asked.winding.part],
        });
      }
    }
  },
});
