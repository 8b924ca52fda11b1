import type { Analysis, CircuitAnalysis } from '../analysis-types.js';
import type { RecordChange } from '../finding.js';
import { conductorAmps } from '../judging/limits.js';
import { loadWords, stateWords } from '../judging/state-words.js';
import { isTaken, thickerThan } from '../judging/mends.js';
import { ampsThrough, extreme, studyOf } from '../judging/study.js';
import { amps, areaOf, sizeWords } from '../judging/units.js';
import { whatIf } from '../judging/what-if.js';
import { quote } from '../judging/words.js';
import type { ConductorSize } from '../model.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const conductorOvercurrent = defineCheck({
  code: 'conductor-overcurrent',
  severity: 'error',
  title: 'A conductor carries more than its size allows',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      if (circuit.supplies.length > 0 && circuit.supplies.every((name) => limitsItself(analysis, name))) continue;
      const told = new Set<string>();
      for (const name of circuit.runs) {
        const run = analysis.runs.get(name);
        const limit = run?.cable?.size === undefined ? undefined : allowedAmps(run.cable.size);
        if (run === undefined || limit === undefined) continue;
        const worst = worstConductor(analysis, circuit, name, limit);
        if (worst === undefined || told.has(worst.figure)) continue;
        told.add(worst.figure);
        report({
          path: at.cable(name),
          message: () =>
            `${worst.colour} of ${quote(name)} (${sizeWords(run.cable!.size!)}) carries ${amps(worst.amps)} ${worst.when}; ${amps(limit)} is the limit for that size. Isolate the supply before touching it. ${mendWords(analysis, name)}`,
          related: circuit.supplies.map((supply) => ({ path: at.part(supply), message: `${quote(supply)} feeds it` })),
          parts: [name, ...circuit.supplies],
          mends: () => sizeThatCarries(analysis, name)?.fix ?? [],
        });
      }
    }
  },
});

function mendWords(analysis: Analysis, run: string): string {
  const mend = sizeThatCarries(analysis, run);
  return mend === undefined ? 'No size of wire carries that: a smaller supply is wanted.' : `${mend.words} carries it.`;
}

/** The next thicker size with which no conductor of the run carries too much. */
function sizeThatCarries(analysis: Analysis, name: string) {
  for (const size of thickerThan(analysis.runs.get(name)?.cable?.size)) {
    const limit = allowedAmps(size);
    if (limit === undefined || !isTaken(analysis, name, size)) continue;
    const changes: readonly RecordChange[] = [{ kind: 'set-cable', run: name, size }];
    const after = whatIf(analysis, [name], changes);
    const around = after.circuits.filter(({ runs }) => runs.includes(name));
    if (around.some((circuit) => worstConductor(after, circuit, name, limit) !== undefined)) continue;
    const words = sizeWords(size);
    return { words, fix: [{ title: `Put ${words} in ${quote(name)}`, changes }] };
  }
  return undefined;
}

/** A supply whose marking says that it limits its own current. */
function limitsItself(analysis: Analysis, name: string): boolean {
  const facts = analysis.parts.get(name)?.facts;
  const words = [...(facts?.labels ?? []), ...(facts?.listed ?? [])].join(' ');
  return /class\s*(2|ii)\b|inherently limited|short[- ]circuit[- ]proof/i.test(words);
}

/** Of the thickest listed size that is no thicker than this one. */
function allowedAmps(size: ConductorSize): number | undefined {
  const area = areaOf(size);
  return conductorAmps.find(({ awg }) => areaOf({ kind: 'awg', awg }) <= area * 1.001)?.amps;
}

function worstConductor(analysis: Analysis, circuit: CircuitAnalysis, run: string, limit: number) {
  const carried = (analysis.runs.get(run)?.conductors ?? []).flatMap(({ id, colour }) =>
    id === undefined
      ? []
      : studyOf(analysis)
          .figures(circuit, 'nominal')
          .map((solved) => ({ id, colour, solved })),
  );
  const worst = extreme(carried, ({ id, solved }) => ampsThrough(solved, id), 'most');
  if (worst === undefined || worst.figure <= limit + 1e-9) return undefined;
  const { state } = worst.item.solved;
  const when = stateWords(analysis, state.closed) + loadWords(state);
  return { colour: worst.item.colour, amps: worst.figure, when, figure: `${worst.figure.toPrecision(6)} ${when}` };
}
