/** The order of a printed troubleshooting sheet, the same whatever was found before: common practice, no source. */

import { type Analysis, type Asked, type Explanation, explain, type Reading } from '../../packages/record/src/index.js';
import type { HiddenHouse } from './hidden-house.js';
import { withReadings } from './hunt.js';

const SURE = 0.95;

/** Read until the finder's ranking of what was read is as sure as it asks of itself, or the sheet is full. */
export function sheetHunt(
  analysis: Analysis,
  house: HiddenHouse,
): { readonly readings: readonly Reading[]; readonly last: Explanation } {
  const readings: Reading[] = [];
  let last: Explanation | undefined;
  for (const asked of sheetOf(analysis)) {
    readings.push(house.answer(asked));
    last = explain(withReadings(analysis, readings), { mostFaults: 400 });
    if (last.next === null || sureness(last) >= SURE) break;
  }
  return { readings, last: last ?? explain(analysis) };
}

function sureness({ faults, healthy, healthyLikelihood }: Explanation): number {
  const [first] = faults;
  if (healthy || first === undefined) return healthyLikelihood;
  return faults
    .filter(({ what }) => what === first.what || first.sameAs.includes(what))
    .reduce((sum, { likelihood }) => sum + likelihood, 0);
}

/** Supply open; then button by button what is heard, the supply, the sounder and the button; then the same at rest, and ohms. */
function sheetOf(analysis: Analysis): readonly Asked[] {
  const end = (point: string) => {
    const [part = '', terminal = ''] = point.split('.');
    return { kind: 'end' as const, end: { part, terminal } };
  };
  const all = [...analysis.elements.values()].filter(
    ({ a, b, present }) => present && [a, b].every((point) => analysis.landedOn(point).length > 0),
  );
  const of = (...kinds: readonly string[]) => all.filter(({ element }) => kinds.includes(element.kind));
  const idle = { kind: 'live' as const, pressed: [] };
  const across = (element: { a: string; b: string }) => [end(element.a), end(element.b)] as const;
  const asked: Asked[] = of('winding').map((one) => ({ state: idle, of: { kind: 'volts', between: across(one) } }));
  const sounders = of('coil', 'load');
  const parts = [...new Set(sounders.map(({ part }) => part))];
  for (const contact of of('contact')) {
    const held = { kind: 'live' as const, pressed: [contact.contact!] };
    for (const part of parts) asked.push({ state: held, of: { kind: 'sign', part } });
    for (const one of [...of('winding'), ...sounders, contact])
      asked.push({ state: held, of: { kind: 'volts', between: across(one) } });
  }
  for (const part of parts) asked.push({ state: idle, of: { kind: 'sign', part } });
  for (const one of [...of('contact'), ...sounders])
    asked.push({ state: idle, of: { kind: 'volts', between: across(one) } });
  for (const one of [...sounders, ...of('contact')])
    asked.push({ state: { kind: 'off' }, of: { kind: 'ohms', between: across(one) } });
  return asked;
}
