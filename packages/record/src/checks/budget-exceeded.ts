import { sumOverWindings, wattsOf } from '../judging/delivered.js';
import { studyOf } from '../judging/study.js';
import { watts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const budgetExceeded = defineCheck({
  code: 'budget-exceeded',
  severity: 'error',
  title: 'The outputs of a supply are asked for more than they share',
  reach: 'cluster',
  run(analysis, report) {
    const supplies = new Set(studyOf(analysis).circuits.flatMap(({ supplies: names }) => names));
    for (const name of supplies) {
      const budget = analysis.parts.get(name)?.facts.budgetWatts;
      if (budget === undefined) continue;
      const drawn = sumOverWindings(analysis, name, wattsOf, () => true);
      if (drawn === undefined || drawn <= budget + 1e-9) continue;
      report({
        path: analysis.parts.get(name)?.stated.has('budget') ? at.fact(name, 'budget') : at.part(name),
        message: `${quote(name)} is asked for ${watts(drawn)} with every output at its peak, and its outputs share ${watts(budget)}: it switches some of them off. Take ${watts(drawn - budget)} off it, or use one with a larger budget.`,
        parts: [name],
      });
    }
  },
});
