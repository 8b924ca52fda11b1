import type { Analysis, CircuitAnalysis } from '../analysis-types.js';
import { studyOf } from '../judging/study.js';
import { labelVolts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { placesFrom } from '../line-side/places.js';
import { at } from '../place-in-record.js';
import { lineLimit } from '../regions/line-limits.js';
import { defineCheck } from './types.js';

export const wetPlaceVolts = defineCheck({
  code: 'wet-place-volts',
  severity: 'info',
  title: 'Bare low-voltage parts where it is wet',
  reach: 'cluster',
  run(analysis, report) {
    const { broken, profile } = analysis.installation;
    for (const circuit of studyOf(analysis).circuits) {
      for (const system of ['AC', 'DC'] as const) {
        const volts = greatestVolts(analysis, circuit, system);
        const limit = lineLimit(system === 'AC' ? 'wetContact' : 'wetContactDirect', profile)!;
        if (volts <= limit.value + 1e-9) continue;
        for (const name of circuit.devices) {
          const place = placesFrom(analysis, analysis.parts.get(name)?.place?.name).find(({ wet }) => wet);
          if (place === undefined || broken.has(name)) continue;
          report({
            path: at.fact(name, 'place'),
            message: `${quote(name)} is in ${quote(place.name)}, which is wet, on ${labelVolts(volts)} ${system}: above ${labelVolts(limit.value)} its bare parts are to be covered there (${limit.source}). Local code and a licensed electrician decide.`,
            related: [{ path: at.place(place.name), message: 'wet' }],
            parts: [name, ...circuit.supplies],
          });
        }
      }
    }
  },
});

/** By the labels of its supplies. */
function greatestVolts(analysis: Analysis, circuit: CircuitAnalysis, system: 'AC' | 'DC'): number {
  const windings = studyOf(analysis).elementsOf(circuit, 'winding');
  return Math.max(0, ...windings.filter((one) => (one.system ?? 'AC') === system).map((one) => one.ratedVolts ?? 0));
}
