import type { ResolvedElement, ResolvedPart } from '../analysis-types.js';
import { poleOf } from '../judging/poles.js';
import { studyOf } from '../judging/study.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const polarityReversed = defineCheck({
  code: 'polarity-reversed',
  severity: 'error',
  title: 'A DC part is the wrong way round',
  forbidsAccepting: true,
  run(analysis, report) {
    const study = studyOf(analysis);
    for (const circuit of study.measured) {
      if (circuit.circuit.system !== 'DC') continue;
      const told = new Set<string>();
      for (const element of study.elementsOf(circuit, 'load', 'lamp')) {
        const { part: name, id } = element;
        const towards = directionOf(analysis.parts.get(name), element);
        if (towards === 0 || told.has(name)) continue;
        const isReversed = study.figures(circuit, 'nominal').some(({ solution }) => {
          const volts = solution.element(id)?.volts.re ?? 0;
          return volts * towards < -0.1;
        });
        if (!isReversed) continue;
        told.add(name);
        report({
          path: at.part(name),
          message: `${quote(name)} is the wrong way round: its plus is on the minus of ${circuit.supplies.map(quote).join(' and ')}. Electronics can be destroyed by it: isolate the supply, then swap its two conductors.`,
          related: circuit.supplies.map((supply) => ({ path: at.part(supply), message: `${quote(supply)} feeds it` })),
          parts: [name, ...circuit.supplies],
        });
      }
    }
  },
});

/** 1 where the element's first terminal is marked plus (or its second minus), -1 the other way round, 0 where nothing is marked. */
function directionOf(part: ResolvedPart | undefined, { element }: ResolvedElement): -1 | 0 | 1 {
  const [a, b] = [poleOf(part, element.a), poleOf(part, element.b)];
  if (a === 'plus' || b === 'minus') return a === 'minus' || b === 'plus' ? 0 : 1;
  return a === 'minus' || b === 'plus' ? -1 : 0;
}
