import { type Group, grouped, leastFirst } from '../grouped.js';
import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { fedEdges } from '../judging/feeding.js';
import { type Collapse, judgeLoad, neededBy } from '../judging/judge-load.js';
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
import { quote, quotedList } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const loadCollapses = defineCheck({
  code: 'load-collapses',
  severity: ['error', 'warning'],
  title: 'A load asks for more than supply and wire can give',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      const told: Collapsing[] = [];
      for (const load of studyOf(analysis).elementsOf(circuit, 'load')) {
        const { collapse } = judgeLoad(analysis, circuit, load);
        if (collapse === undefined || told.some((other) => areInSeries(analysis, circuit, load, other.load))) continue;
        const cause = causeOf(analysis, circuit, load, { solved: collapse.solved, needs: neededBy(analysis, load) });
        told.push({ load, collapse, cause });
      }
      for (const [{ load, collapse, cause }, ...others] of alike(told)) {
        const path = placeOfShortfall(cause, load);
        const names = [...new Set(others.map((one) => one.load.part))].filter((name) => name !== load.part);
        const same = names.length === 0 ? '' : ` The same goes for ${quotedList(names)}.`;
        report({
          path,
          severity: collapse.severity,
          message: () => sentence(analysis, load, collapse, cause) + same,
          related: [load.part, ...names]
            .map((name) => ({ path: at.part(name), message: `${quote(name)} cuts out` }))
            .filter((one) => one.path !== path),
          parts: [...partsOfShortfall(cause, load), ...names],
          mends: () => mendsOfShortfall(cause),
        });
      }
    }
  },
});

interface Collapsing {
  readonly load: ResolvedElement;
  readonly collapse: Collapse;
  readonly cause: Cause;
}

/** Loads that cut out for the same wire or part in their way are one finding; the one that can have least tells it. */
function alike(told: readonly Collapsing[]): readonly Readonly<Group<Collapsing>>[] {
  const groups = grouped(told, ({ load, collapse, cause: { losses, inParts, coil, besides } }) => {
    const runs = losses.map(({ run, ohms: of }) => ({ name: run, of }));
    const parts = inParts.map(({ part, ohms: of }) => ({ name: part, of }));
    const [worst] = [...runs, ...parts].sort((one, other) => other.of - one.of);
    const isItsOwn = worst === undefined || coil !== undefined || besides !== undefined;
    return isItsOwn ? load.id : `${collapse.severity} ${worst.name}`;
  });
  return [...groups.values()].map((group) => leastFirst(group, ({ collapse }) => collapse.available ?? 1));
}

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
