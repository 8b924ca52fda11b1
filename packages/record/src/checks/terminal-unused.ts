import { pointOf } from '../analysis-types.js';
import { feedingOf, isEmpty } from '../judging/feeding.js';
import { studyOf } from '../judging/study.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const terminalUnused = defineCheck({
  code: 'terminal-unused',
  severity: 'hint',
  title: 'A terminal with nothing on it',
  run(analysis, report) {
    const study = studyOf(analysis);
    const told = new Set(feedingOf(analysis).unfed.flatMap(({ parts, open }) => [...parts, open?.part]));
    for (const part of analysis.parts.values()) {
      if (told.has(part.name) || analysis.installation.broken.has(part.name)) continue;
      if (analysis.circuitsOfPart(part.name).some(({ held }) => held)) continue;
      const empty = part.terminals.filter(
        ({ name, optional, lineSide }) => !optional && lineSide === undefined && isEmpty(analysis, part.name, name),
      );
      if (empty.length === 0) continue;
      const loose = part.terminals.some(({ name }) =>
        study.hasLooseEnd(study.topology.componentOf(pointOf({ part: part.name, terminal: name }))),
      );
      if (loose) continue;
      const names = empty.map(({ name, words }) => `${quote(name)}${words === undefined ? '' : ` (${words})`}`);
      report({
        path: at.part(part.name),
        message: `Nothing is landed on ${names.join(', ')} of ${quote(part.name)}.`,
        parts: [part.name],
      });
    }
  },
});
