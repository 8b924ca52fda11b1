import { grouped } from '../grouped.js';
import type { Analysis } from '../analysis-types.js';
import { quote, quotedList } from '../judging/words.js';
import type { Run } from '../model.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const runPlaceMismatch = defineCheck({
  code: 'run-place-mismatch',
  severity: 'warning',
  title: "A run's ends land on parts that are not at its places",
  reach: 'cluster',
  run(analysis, report) {
    for (const run of analysis.installation.runs) {
      if (isReversed(analysis, run)) {
        report({
          path: at.runPlace(run.name, 'from'),
          message: `${quote(run.name)} has its places the wrong way round: its conductors go from ${quote(run.toPlace!)} to ${quote(run.fromPlace!)}.`,
          related: [{ path: at.runPlace(run.name, 'to'), message: 'the other place' }],
          parts: [run.name],
        });
        continue;
      }
      for (const end of ['from', 'to'] as const) {
        const place = end === 'from' ? run.fromPlace : run.toPlace;
        if (place === undefined) continue;
        const elsewhere = partsElsewhere(analysis, run, end, place);
        const [first] = elsewhere;
        if (first === undefined) continue;
        report({
          path: at.runPlace(run.name, end),
          message: `${quote(run.name)} goes ${end} ${quote(place)}, and its conductors there land elsewhere: ${whereabouts(elsewhere)}.`,
          related: elsewhere.map(({ part, where }) => ({ path: at.part(part), message: `in ${quote(where)}` })),
          parts: [run.name, ...elsewhere.map(({ part }) => part)],
        });
      }
    }
  },
});

/** "`a` and `b` are in `hall`, `c` is in `porch`". */
function whereabouts(elsewhere: readonly { readonly part: string; readonly where: string }[]): string {
  const groups = grouped(elsewhere, ({ where }) => where);
  const words = [...groups].map(([where, found]) => {
    const are = found.length === 1 ? 'is' : 'are';
    return `${quotedList(found.map(({ part }) => part))} ${are} in ${quote(where)}`;
  });
  return words.join(', ');
}

/** Whether both ends fit once the places change sides. */
function isReversed(analysis: Analysis, run: Run): boolean {
  const { fromPlace, toPlace } = run;
  if (fromPlace === undefined || toPlace === undefined) return false;
  const misses = (end: 'from' | 'to', place: string) => partsElsewhere(analysis, run, end, place).length > 0;
  const missesBoth = misses('from', fromPlace) && misses('to', toPlace);
  return missesBoth && !misses('from', toPlace) && !misses('to', fromPlace);
}

function partsElsewhere(analysis: Analysis, run: Run, end: 'from' | 'to', place: string) {
  const elsewhere = new Map<string, string>();
  for (const conductor of run.conductors) {
    const landing = conductor[end];
    if (landing?.kind !== 'on') continue;
    const where = placeOf(analysis, landing.end.part);
    if (where !== undefined && !isWithin(analysis, where, place) && !isWithin(analysis, place, where)) {
      elsewhere.set(landing.end.part, where);
    }
  }
  return [...elsewhere].map(([part, where]) => ({ part, where }));
}

function placeOf(analysis: Analysis, name: string): string | undefined {
  return analysis.parts.get(name)?.place?.name ?? analysis.installation.splices.find((one) => one.name === name)?.place;
}

function isWithin({ installation }: Analysis, inner: string, outer: string): boolean {
  const seen = new Set<string>();
  for (let name: string | undefined = inner; name !== undefined && !seen.has(name); ) {
    if (name === outer) return true;
    seen.add(name);
    name = installation.places.find((place) => place.name === name)?.within;
  }
  return false;
}
