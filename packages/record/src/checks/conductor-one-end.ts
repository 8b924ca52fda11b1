import { looseIn } from '../analyse/joining.js';
import { pointOf } from '../analysis-types.js';
import { feedingOf } from '../judging/feeding.js';
import { missingConductors, missingEnds } from '../judging/missing-conductor.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const conductorOneEnd = defineCheck({
  code: 'conductor-one-end',
  severity: 'error',
  title: 'A conductor is landed at one end only',
  reach: 'cluster',
  // Loose ends are told of with all others, wherever they are.
  isToldByItself: (installation) => looseIn(installation).length === 0,
  run(analysis, report) {
    const { broken } = analysis.installation;
    for (const run of analysis.installation.runs) {
      if (broken.has(run.name)) continue;
      run.conductors.forEach(({ colour, from, to, spare }, index) => {
        if (spare || (from !== undefined) === (to !== undefined)) return;
        const landing = from ?? to;
        if (landing?.kind !== 'on' || broken.has(landing.end.part)) return;
        const end = from === undefined ? 'from' : 'to';
        report({
          path: at.conductor(run.name, index),
          message: `${colour} of ${quote(run.name)} is landed on ${quote(pointOf(landing.end))} and nowhere else: say where its other end goes, or write \`to capped\` for one that is put away.`,
          parts: [run.name, landing.end.part],
          mends: () => [
            ...missingEnds(analysis, { run: run.name, conductor: index, end }, landing.end),
            {
              title: `Cap the other end of ${colour} of ${quote(run.name)}`,
              changes: [{ kind: 'cap', run: run.name, conductor: index, end }],
            },
          ],
        });
      });
    }
    const { splicesToldOf } = feedingOf(analysis);
    for (const { name } of analysis.installation.splices) {
      if (broken.has(name) || splicesToldOf.has(name)) continue;
      const landed = analysis.landedOn(name);
      const [only] = landed;
      if (landed.length !== 1 || only === undefined) continue;
      if (only.kind === 'conductor' && broken.has(only.run)) continue;
      const what = only.kind === 'conductor' ? `${only.colour} of ${quote(only.run)}` : 'one lead';
      report({
        path: at.part(name),
        message: `${quote(name)} joins ${what} to nothing: a splice takes two conductors or more.`,
        related:
          only.kind === 'conductor'
            ? [{ path: at.conductorEnd(only.run, only.index, only.end), message: 'the only conductor in it' }]
            : [],
        parts: [name, ...(only.kind === 'conductor' ? [only.run] : [])],
        mends: () => missingConductors(analysis, [name]),
      });
    }
  },
});
