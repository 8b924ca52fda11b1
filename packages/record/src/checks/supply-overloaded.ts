import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { type Overload, worstOverload } from '../judging/judge-supply.js';
import { asFix, carriesItsLoads, plainSupply, supplySizeThatHolds } from '../judging/mends.js';
import { loadWords, stateWords } from '../judging/state-words.js';
import { ampsThrough, studyOf } from '../judging/study.js';
import { amps } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const supplyOverloaded = defineCheck({
  code: 'supply-overloaded',
  severity: ['error', 'warning', 'info'],
  title: 'More is drawn from a supply than its rating',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      for (const winding of studyOf(analysis).elementsOf(circuit, 'winding')) {
        const worst = worstOverload(analysis, circuit, winding);
        if (worst === undefined) continue;
        report({
          path: at.fact(winding.part, 'output'),
          severity: worst.severity,
          message: () => sentence(analysis, circuit, winding, worst),
          parts: [winding.part, ...drawing(analysis, circuit, worst)],
          mends: () => {
            const mend = mendOf(analysis, circuit, worst);
            return mend === undefined ? [] : [asFix(mend)];
          },
        });
      }
    }
  },
});

/** Devices that carry some of it in that state. */
function drawing(analysis: Analysis, circuit: CircuitAnalysis, { solved, amps: total }: Overload): readonly string[] {
  const carrying = studyOf(analysis)
    .elementsOf(circuit, 'load', 'coil', 'lamp', 'resistor', 'impedance')
    .filter(({ id }) => (ampsThrough(solved, id) ?? 0) > total / 20);
  return [...new Set(carrying.map(({ part }) => part))];
}

/** A size that holds, and for what lasts one of no less than is drawn. */
function mendOf(analysis: Analysis, circuit: CircuitAnalysis, { solved, amps: drawn }: Overload) {
  const supply = plainSupply(analysis, circuit);
  const atLeast = studyOf(analysis).lasts(solved.state) ? drawn * (supply?.ratedVolts ?? 0) : 0;
  return (
    supply &&
    supplySizeThatHolds(analysis, supply, (after) => (carriesItsLoads(after, supply) ? 0 : undefined), atLeast)
  );
}

function sentence(analysis: Analysis, circuit: CircuitAnalysis, winding: ResolvedElement, worst: Overload): string {
  const { solved, rated, limit } = worst;
  const mend = mendOf(analysis, circuit, worst);
  const change =
    mend === undefined ? '' : ` A ${mend.words} supply carries it; its mains side is for a licensed electrician.`;
  const when = stateWords(analysis, solved.state.closed) + loadWords(solved.state);
  const isRegulated = winding.system === 'DC' && analysis.parts.get(winding.part)?.facts.regulated === true;
  const harm = isRegulated ? 'its volts fall or it shuts down' : 'the winding overheats';
  const held = studyOf(analysis).lasts(solved.state) ? 'what lasts' : 'a moment';
  return `${quote(winding.part)} gives ${amps(worst.amps)} ${when}, ${(worst.amps / rated).toFixed(1)} times its ${amps(rated)}; ${limit} times is the limit for ${held}, and beyond it ${harm}.${change}`;
}
