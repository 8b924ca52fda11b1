import { sameColour } from '../judging/colours.js';
import { listOf, quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const colourNotInCable = defineCheck({
  code: 'colour-not-in-cable',
  severity: 'error',
  title: 'A colour that the cable does not have',
  run(analysis, report) {
    for (const run of analysis.installation.runs) {
      const colours = run.cable?.colours ?? [];
      if (colours.length === 0) continue;
      run.conductors.forEach(({ colour }, index) => {
        if (colours.some((other) => sameColour(other, colour))) return;
        const free = colours.filter((other) => !run.conductors.some((one) => sameColour(one.colour, other)));
        report({
          path: at.conductor(run.name, index),
          message: `${quote(run.cableWords)} has no ${colour} conductor: it has ${listOf(colours)}.`,
          parts: [run.name],
          mends: () =>
            free.map((other) => ({
              title: `Make it ${other}`,
              changes: [{ kind: 'set-colour', run: run.name, conductor: index, colour: other }],
            })),
        });
      });
    }
  },
});
