import type { Analysis, CircuitAnalysis, ResolvedElement, Solved } from '../analysis-types.js';
import { limits } from '../judging/limits.js';
import { takesPower } from '../judging/state-words.js';
import { ampsThrough, extreme, studyOf, voltsAcross } from '../judging/study.js';
import { amps, labelVolts, ratingWords, volts } from '../judging/units.js';
import { quote, quotedList } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const contactOverloaded = defineCheck({
  code: 'contact-overloaded',
  severity: 'error',
  title: 'A contact switches more than it carries',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      const over = overloadedIn(analysis, circuit);
      const [first, ...others] = over;
      if (first === undefined) continue;
      const more = others.length === 0 ? '' : ` The same goes for ${quotedList(others.map(({ part }) => part))}.`;
      report({
        path: placeOf(analysis, first.part),
        message: `${quote(first.name)} ${first.words}: the contact burns or sticks.${more}`,
        related: others.map(({ part }) => ({ path: placeOf(analysis, part), message: `${quote(part)} as well` })),
        parts: [...over.map(({ part }) => part), ...circuit.supplies],
      });
    }
  },
});

interface Overloaded {
  readonly part: string;
  readonly name: string;
  readonly words: string;
}

/** Each part once. */
function overloadedIn(analysis: Analysis, circuit: CircuitAnalysis): readonly Overloaded[] {
  const found = new Map<string, Overloaded>();
  for (const contact of studyOf(analysis).elementsOf(circuit, 'contact')) {
    const { part } = contact;
    const words = found.has(part) || takesPower(analysis, part) ? undefined : overloadOf(analysis, circuit, contact);
    if (words !== undefined) found.set(part, { part, name: contact.contact ?? part, words });
  }
  return [...found.values()];
}

function overloadOf(analysis: Analysis, circuit: CircuitAnalysis, contact: ResolvedElement): string | undefined {
  const study = studyOf(analysis);
  const part = analysis.parts.get(contact.part);
  const rating = part?.rating;
  if (part === undefined || rating === undefined) return undefined;
  const allowance = part.stated.has('rating') ? 1 : limits.contactUnread;
  const isOver = (figure: number, limit: number) => figure > limit * allowance + 1e-9;
  const healthy = study.figures(circuit, 'nominal').filter((solved) => !asksTooMuch(analysis, circuit, solved));
  const closed = extreme(healthy, (one) => ampsThrough(one, contact.id), 'most');
  if (rating.amps !== undefined && closed !== undefined && isOver(closed.figure, rating.amps)) {
    return `switches ${amps(closed.figure)}, and its label allows ${amps(rating.amps)} (${ratingWords(rating)})`;
  }
  const most = rating.volts?.most;
  const open = extreme(study.figures(circuit, 'labels'), (one) => voltsAcross(one, contact), 'most');
  if (most !== undefined && open !== undefined && isOver(open.figure, most)) {
    return `opens ${volts(open.figure)}, and its label allows ${labelVolts(most)} (${ratingWords(rating)})`;
  }
  return undefined;
}

/** A current that overloads the supply is a mistake of its own, and not the contact's. */
function asksTooMuch(analysis: Analysis, circuit: CircuitAnalysis, solved: Solved): boolean {
  const windings = studyOf(analysis).elementsOf(circuit, 'winding');
  return windings.some(({ id, ratedAmps }) => {
    const drawn = ampsThrough(solved, id) ?? 0;
    return ratedAmps !== undefined && drawn > ratedAmps * limits.overloadMomentaryWarning + 1e-9;
  });
}

function placeOf(analysis: Analysis, part: string) {
  return analysis.parts.get(part)!.stated.has('rating') ? at.fact(part, 'rating') : at.part(part);
}
