import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { studyOf } from '../judging/study.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const wrongKind = defineCheck({
  code: 'wrong-kind',
  severity: 'error',
  title: 'An AC part is on DC, or the other way round',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).circuits) {
      const { system } = circuit.circuit;
      if (system !== 'AC' && system !== 'DC') continue;
      for (const [part, asks] of partsOfOtherKind(analysis, circuit, system)) {
        const feeding = circuit.supplies.map(quote).join(' and ');
        report({
          path: analysis.parts.get(part)!.stated.has('rating') ? at.fact(part, 'rating') : at.part(part),
          message: `${quote(part)} is made for ${asks}, and ${feeding} gives ${system}: ${consequence(asks)}.`,
          related: circuit.supplies.map((name) => ({ path: at.fact(name, 'output'), message: `gives ${system}` })),
          parts: [part, ...circuit.supplies],
        });
      }
    }
  },
});

function consequence(asks: 'AC' | 'DC'): string {
  return asks === 'AC'
    ? 'a coil made for AC draws several times its current on DC and gets hot, and electronics may not start'
    : 'electronics made for DC alone can be damaged by AC';
}

function partsOfOtherKind(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  system: 'AC' | 'DC',
): ReadonlyMap<string, 'AC' | 'DC'> {
  const others = new Map<string, 'AC' | 'DC'>();
  for (const element of studyOf(analysis).elementsOf(circuit, 'coil', 'load', 'lamp')) {
    const asks = kindOf(analysis, element);
    if (asks !== undefined && asks !== system) others.set(element.part, asks);
  }
  return others;
}

function kindOf(analysis: Analysis, element: ResolvedElement): 'AC' | 'DC' | undefined {
  return element.element.kind === 'lamp'
    ? undefined
    : (element.system ?? analysis.parts.get(element.part)?.rating?.system);
}
