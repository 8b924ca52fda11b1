import { pointOf } from '../analysis-types.js';
import { sameColour } from '../judging/colours.js';
import { quote } from '../judging/words.js';
import type { Conductor } from '../model.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const conductorReused = defineCheck({
  code: 'conductor-reused',
  severity: 'error',
  title: 'One colour is given twice in a run',
  reach: 'cluster',
  run(analysis, report) {
    for (const run of analysis.installation.runs) {
      run.conductors.forEach((conductor, index) => {
        const first = run.conductors.findIndex((other) => sameColour(other.colour, conductor.colour));
        if (first === index) return;
        const unused = (run.cable?.colours ?? []).filter(
          (colour) => !run.conductors.some((other) => sameColour(other.colour, colour)),
        );
        const free =
          unused.length === 0
            ? 'no colour of the cable is free'
            : `${unused.join(', ')} ${unused.length === 1 ? 'is' : 'are'} free`;
        report({
          path: at.conductor(run.name, index),
          message: `${conductor.colour} of ${quote(run.name)} already goes ${landingWords(run.conductors[first]!)}: a conductor is stated once, and ${free}.`,
          related: [{ path: at.conductor(run.name, first), message: `${conductor.colour}, the first time` }],
          parts: [run.name],
          mends: () =>
            unused.map((colour) => ({
              title: `Make it ${colour}`,
              changes: [{ kind: 'set-colour', run: run.name, conductor: index, colour }],
            })),
        });
      });
    }
  },
});

function landingWords({ from, to, spare }: Conductor): string {
  if (spare) return 'spare';
  const words = [from, to].map((landing) =>
    landing === undefined ? 'nowhere' : landing.kind === 'on' ? quote(pointOf(landing.end)) : landing.kind,
  );
  return `from ${words.join(' to ')}`;
}
