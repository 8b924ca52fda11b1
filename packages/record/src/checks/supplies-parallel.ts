import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { stateWords } from '../judging/state-words.js';
import { studyOf } from '../judging/study.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const suppliesParallel = defineCheck({
  code: 'supplies-parallel',
  severity: 'error',
  title: 'Two supplies feed one another',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    for (const circuit of studyOf(analysis).circuits) {
      for (const { one, other, closed, how } of parallelIn(analysis, circuit)) {
        report({
          path: at.part(other.part),
          message: `${quote(one.part)} and ${quote(other.part)} are joined ${how} ${stateWords(analysis, closed)}: one drives current through the other, whatever the loads do. Isolate both and prove them dead before separating them; each circuit takes one supply.`,
          related: [{ path: at.part(one.part), message: `${quote(one.part)} is the other supply` }],
          parts: [one.part, other.part],
        });
      }
    }
  },
});

interface Parallel {
  readonly one: ResolvedElement;
  readonly other: ResolvedElement;
  readonly closed: readonly string[];
  readonly how: string;
}

function parallelIn(analysis: Analysis, circuit: CircuitAnalysis): readonly Parallel[] {
  const study = studyOf(analysis);
  const windings = study.elementsOf(circuit, 'winding');
  const component = study.componentOf(circuit);
  const found = new Map<string, Parallel>();
  for (const { closed } of circuit.states) {
    const { bare } = study.joined(component, closed);
    windings.forEach((one, index) => {
      for (const other of windings.slice(index + 1)) {
        const pair = `${one.part} ${other.part}`;
        if (one.part === other.part || found.has(pair) || bare.same(one.a, one.b) || bare.same(other.a, other.b))
          continue;
        const straight = bare.same(one.a, other.a) && bare.same(one.b, other.b);
        const crossed = bare.same(one.a, other.b) && bare.same(one.b, other.a);
        const mixed = one.system !== other.system;
        if (!straight && !crossed) continue;
        const how = mixed ? 'AC into DC' : 'in parallel';
        found.set(pair, { one, other, closed, how });
      }
    });
  }
  return [...found.values()];
}
