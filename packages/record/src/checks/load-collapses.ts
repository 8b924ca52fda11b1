import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { fedEdges } from '../judging/feeding.js';
import { type Collapse, judgeLoad } from '../judging/judge-load.js';
import { runWords } from '../judging/losses.js';
import {
  type Cause,
  causeOf,
  causeWords,
  mendsOfShortfall,
  partsOfShortfall,
  placeOfShortfall,
} from '../judging/shortfall.js';
import { conditionWords, momentWords } from '../judging/state-words.js';
import { studyOf } from '../judging/study.js';
import { amps, labelVolts, ohms, share, voltAmperes } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const loadCollapses = defineCheck({
  code: 'load-collapses',
  severity: ['error', 'warning'],
  title: 'A load asks for more than supply and wire can give',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      const told: ResolvedElement[] = [];
      for (const load of studyOf(analysis).elementsOf(circuit, 'load')) {
        const { collapse } = judgeLoad(analysis, circuit, load);
        if (collapse === undefined || told.some((other) => areInSeries(analysis, circuit, load, other))) continue;
        told.push(load);
        const cause = causeOf(analysis, circuit, load, collapse.solved);
        const path = placeOfShortfall(cause, load);
        report({
          path,
          severity: collapse.severity,
          message: () => sentence(analysis, load, collapse, cause),
          related: [{ path: at.part(load.part), message: `${quote(load.part)} cuts out` }].filter(
            (one) => one.path !== path,
          ),
          parts: partsOfShortfall(cause, load),
          mends: () => mendsOfShortfall(analysis, cause),
        });
      }
    }
  },
});

/** Whether one gets nothing without the other: two loads in one loop collapse for one reason. */
function areInSeries(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  one: ResolvedElement,
  other: ResolvedElement,
): boolean {
  const edges = studyOf(analysis).edgesOf(circuit);
  return !fedEdges(edges.filter(({ id }) => id !== other.id)).has(one.id);
}

function sentence(
  analysis: Analysis,
  load: ResolvedElement,
  { asked, available, staysOnFrom, state, condition }: Collapse,
  cause: Cause,
): string {
  const figure = asked.unit === 'A' ? amps(asked.value) : voltAmperes(asked.value);
  const when = momentWords(analysis, state);
  const corner = condition === 'nominal' ? '' : `, ${conditionWords(condition)}`;
  const part = available === undefined ? '' : ` and can have ${share(available)} of that`;
  const off = staysOnFrom > 0 ? `: it cuts out below ${labelVolts(staysOnFrom)}` : ': the volts collapse';
  const wire = inTheWay(analysis, cause);
  return `${quote(load.part)} asks for ${figure} ${when}${corner}${part}${off}.${causeWords(analysis, cause, wire)}`;
}

/** With no operating point there is no drop to tell, but what stands in the way. */
function inTheWay(analysis: Analysis, { losses: [worst], inParts: [part] }: Cause): string | undefined {
  if (part !== undefined && part.ohms > (worst?.ohms ?? 0))
    return `${quote(part.part)} puts ${ohms(part.ohms)} in its way`;
  if (worst === undefined) return undefined;
  return `${runWords(analysis, worst.run)} puts ${ohms(worst.ohms)} in its way`;
}
