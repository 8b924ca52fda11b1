import { quote } from '../judging/words.js';
import { isBranchCircuit } from '../line-side/line-side.js';
import { placesFrom } from '../line-side/places.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const supplyInaccessible = defineCheck({
  code: 'supply-inaccessible',
  severity: 'warning',
  title: 'A supply is where nobody gets at it',
  reach: 'cluster',
  run(analysis, report) {
    for (const part of analysis.parts.values()) {
      if (part.kind !== 'supply' || isBranchCircuit(part) || analysis.installation.broken.has(part.name)) continue;
      const place = placesFrom(analysis, part.place?.name).find(({ concealed }) => concealed);
      if (place === undefined) continue;
      report({
        path: part.stated.has('place') ? at.fact(part.name, 'place') : at.part(part.name),
        message: `${quote(part.name)} is in ${quote(place.name)}, which is concealed: a transformer warms, fails, and has to be found. It belongs where it can be reached and has air; local code and a licensed electrician decide.`,
        related: [{ path: at.place(place.name), message: 'concealed' }],
        parts: [part.name],
      });
    }
  },
});
