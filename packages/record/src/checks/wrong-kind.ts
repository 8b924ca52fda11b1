import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { studyOf } from '../judging/study.js';
import { quote, quotedList } from '../judging/words.js';
import { at, type RecordPath } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const wrongKind = defineCheck({
  code: 'wrong-kind',
  severity: 'error',
  title: 'An AC part is on DC, or the other way round',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).circuits) {
      const { system } = circuit.circuit;
      if (system !== 'AC' && system !== 'DC') continue;
      const others = partsOfOtherKind(analysis, circuit, system);
      const parts = [...others.keys()];
      const [first] = parts;
      if (first === undefined) continue;
      const asks = others.get(first)!;
      const feeding = circuit.supplies.map(quote).join(' and ');
      const supply = circuit.supplies[0];
      const isSupplyOdd = parts.length > 1 && supply !== undefined;
      const are = parts.length === 1 ? 'is' : 'are';
      report({
        path: isSupplyOdd ? at.fact(supply, 'output') : placeOf(analysis, first),
        message: `${quotedList(parts)} ${are} made for ${asks}, and ${feeding} gives ${system}: ${consequence(asks)}.`,
        related: isSupplyOdd
          ? parts.map((name) => ({ path: placeOf(analysis, name), message: `${quote(name)} is made for ${asks}` }))
          : circuit.supplies.map((name) => ({ path: at.fact(name, 'output'), message: `gives ${system}` })),
        parts: [...parts, ...circuit.supplies],
      });
    }
  },
});

function placeOf(analysis: Analysis, part: string): RecordPath {
  return analysis.parts.get(part)!.stated.has('rating') ? at.fact(part, 'rating') : at.part(part);
}

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
    const isBypassed = element.element.kind === 'coil' && studyOf(analysis).isBypassed(element, []);
    if (asks !== undefined && asks !== system && !isBypassed) others.set(element.part, asks);
  }
  return others;
}

function kindOf(analysis: Analysis, element: ResolvedElement): 'AC' | 'DC' | undefined {
  return element.element.kind === 'lamp'
    ? undefined
    : (element.system ?? analysis.parts.get(element.part)?.rating?.system);
}
