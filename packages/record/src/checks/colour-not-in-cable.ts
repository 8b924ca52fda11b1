import { keptWith, keptWithAll } from '../analyse/lazily.js';
import { sameColour } from '../judging/colours.js';
import { listOf, quote } from '../judging/words.js';
import type { Installation, Run } from '../model.js';
import { at } from '../place-in-record.js';
import { compare } from '../resolve/parts.js';
import { defineCheck, type Report } from './types.js';

export const colourNotInCable = defineCheck({
  code: 'colour-not-in-cable',
  severity: 'error',
  title: 'A colour that the cable does not have',
  // Told of by how many there are.
  isToldByItself: (installation) => strangersIn(installation).length === 0,
  run({ installation }, report) {
    const strange = strangersIn(installation);
    if (strange.length <= MOST_APART) for (const stranger of strange) report(slip(stranger));
    else report(foreign(strange, installation.profile)!);
  },
});

/** More than these in one record are no slips: the colours are those of another country, and one finding says so. */
const MOST_APART = 2;

interface Stranger {
  readonly run: Run;
  readonly index: number;
  readonly colour: string;
}

/** In order of the runs' names. */
function strangersIn({ runs }: Installation): readonly Stranger[] {
  const strange: Stranger[] = [];
  for (const run of runs) for (const one of strangersOf(run)) strange.push(one);
  return strange.sort((one, other) => compare(one.run.name, other.run.name));
}

const strangersOf = keptWith((run: Run): readonly Stranger[] => {
  const colours = run.cable?.colours ?? [];
  if (colours.length === 0) return [];
  return run.conductors.flatMap(({ colour }, index) =>
    colours.some((other) => sameColour(other, colour)) ? [] : [{ run, index, colour }],
  );
});

const slip = keptWith(({ run, index, colour }: Stranger): Report => {
  const colours = run.cable!.colours;
  const free = colours.filter((other) => !run.conductors.some((one) => sameColour(one.colour, other)));
  return {
    path: at.conductor(run.name, index),
    message: `${quote(run.cableWords)} has no ${colour} conductor: it has ${listOf(colours)}.`,
    parts: [run.name],
    mends: () =>
      free.map((other) => ({
        title: `Make it ${other}`,
        changes: [{ kind: 'set-colour', run: run.name, conductor: index, colour: other }],
      })),
  };
});

const foreign = keptWithAll((strange: readonly Stranger[], profile: string): Report => {
  const [first, ...others] = strange;
  return {
    path: at.conductor(first!.run.name, first!.index),
    message: `${quote(first!.run.cableWords)} has no ${first!.colour} conductor: it has ${listOf(first!.run.cable!.colours)}. ${others.length} more conductors are strangers to their cables: see whether ${quote(`profile ${profile}`)} is the right one.`,
    related: others.map(({ run, index, colour }) => ({
      path: at.conductor(run.name, index),
      message: `${quote(run.cableWords)} has no ${colour} either`,
    })),
    parts: [...new Set(strange.map(({ run }) => run.name))],
  };
});
