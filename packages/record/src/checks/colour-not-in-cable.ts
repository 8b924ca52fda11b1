import { sameColour } from '../judging/colours.js';
import { listOf, quote } from '../judging/words.js';
import type { Installation, Run } from '../model.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const colourNotInCable = defineCheck({
  code: 'colour-not-in-cable',
  severity: 'error',
  title: 'A colour that the cable does not have',
  run(analysis, report) {
    const strange = strangersIn(analysis.installation);
    if (strange.length > MOST_APART) {
      const [first, ...others] = strange;
      const runs = [...new Set(strange.map(({ run }) => run.name))];
      const { profile } = analysis.installation;
      report({
        path: at.conductor(first!.run.name, first!.index),
        message: `${quote(first!.run.cableWords)} has no ${first!.colour} conductor: it has ${listOf(first!.run.cable!.colours)}. ${others.length} more conductors are strangers to their cables: see whether ${quote(`profile ${profile}`)} is the right one.`,
        related: others.map(({ run, index, colour }) => ({
          path: at.conductor(run.name, index),
          message: `${quote(run.cableWords)} has no ${colour} either`,
        })),
        parts: runs,
      });
      return;
    }
    for (const { run, index, colour } of strange) {
      const colours = run.cable!.colours;
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
    }
  },
});

/** More than these in one record are no slips: the colours are those of another country, and one finding says so. */
const MOST_APART = 2;

interface Stranger {
  readonly run: Run;
  readonly index: number;
  readonly colour: string;
}

export function strangersIn(installation: Installation): readonly Stranger[] {
  const runs = [...installation.runs].sort((one, other) => (one.name < other.name ? -1 : 1));
  return runs.flatMap((run) => {
    const colours = run.cable?.colours ?? [];
    if (colours.length === 0) return [];
    return run.conductors.flatMap(({ colour }, index) =>
      colours.some((other) => sameColour(other, colour)) ? [] : [{ run, index, colour }],
    );
  });
}
