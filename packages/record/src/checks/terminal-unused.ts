import { type Analysis, pointOf, type ResolvedPart } from '../analysis-types.js';
import { feedingOf, isEmpty } from '../judging/feeding.js';
import { studyOf } from '../judging/study.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const terminalUnused = defineCheck({
  code: 'terminal-unused',
  severity: 'hint',
  title: 'A terminal with nothing on it',
  reach: 'cluster',
  run(analysis, report) {
    const study = studyOf(analysis);
    const told = new Set(feedingOf(analysis).unfed.flatMap(({ parts, open }) => [...parts, open?.part]));
    for (const part of analysis.parts.values()) {
      if (told.has(part.name) || analysis.installation.broken.has(part.name)) continue;
      if (analysis.circuitsOfPart(part.name).some(({ held }) => held)) continue;
      const spoken = spokenFor(analysis, part);
      const empty = part.terminals.filter(
        ({ name, optional, lineSide }) =>
          !optional && lineSide === undefined && isEmpty(analysis, part.name, name) && !spoken.has(name),
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

/** Terminals that may stay empty because another does their work: linked inside to one in use, or a tap of a winding two of whose are. */
function spokenFor(analysis: Analysis, part: ResolvedPart): ReadonlySet<string> {
  const isUsed = (terminal: string) => !isEmpty(analysis, part.name, terminal);
  const groups = part.elements.flatMap(({ element }) => {
    if (element.kind === 'link') return [{ terminals: [element.a, element.b], enough: 1 }];
    if (element.kind !== 'winding' || element.taps === undefined) return [];
    return [{ terminals: element.taps.map(({ terminal }) => terminal), enough: 2 }];
  });
  const satisfied = groups.filter(({ terminals, enough }) => terminals.filter(isUsed).length >= enough);
  return new Set(satisfied.flatMap(({ terminals }) => terminals));
}
