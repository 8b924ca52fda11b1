import { quote } from '../judging/words.js';
import { lineSideOf } from '../line-side/line-side.js';
import { standsInPanel } from '../line-side/panel.js';
import { DEFERS } from '../line-side/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const supplyInPanel = defineCheck({
  code: 'supply-in-panel',
  severity: 'warning',
  title: 'A transformer is inside the panel',
  reach: 'cluster',
  run(analysis, report) {
    if (analysis.installation.profile !== 'north-america') return;
    const lineSide = lineSideOf(analysis);
    if (lineSide === undefined) return;
    for (const part of analysis.parts.values()) {
      if (!standsInPanel(lineSide, part)) continue;
      report({
        path: part.stated.has('place') ? at.fact(part.name, 'place') : at.part(part.name),
        message: `${quote(part.name)} is inside ${quote(part.place!.name)}, where the breakers are: its low-voltage wires lie among line-voltage ones, and it warms them. It belongs outside, on a knockout or on a box of its own. ${DEFERS}`,
        parts: [part.name],
      });
    }
  },
});
