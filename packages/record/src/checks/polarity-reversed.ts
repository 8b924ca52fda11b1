import type { ResolvedElement, ResolvedPart } from '../analysis-types.js';
import { poleOf } from '../judging/poles.js';
import { studyOf } from '../judging/study.js';
import { quote, quotedList } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const polarityReversed = defineCheck({
  code: 'polarity-reversed',
  severity: 'error',
  title: 'A DC part is the wrong way round',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const study = studyOf(analysis);
    for (const circuit of study.measured) {
      if (circuit.circuit.system !== 'DC') continue;
      const reversed = study.elementsOf(circuit, 'load', 'lamp').flatMap((element) => {
        const { part: name, id } = element;
        const towards = directionOf(analysis.parts.get(name), element);
        const isReversed = study.figures(circuit, 'nominal').some(({ solution }) => {
          const volts = solution.element(id)?.volts.re ?? 0;
          return volts * towards < -0.1;
        });
        return isReversed ? [name] : [];
      });
      const names = [...new Set(reversed)];
      const [first, ...others] = names;
      if (first === undefined) continue;
      const feeds = (name: string) => `${quote(name)} feeds ${others.length === 0 ? 'it' : 'them'}`;
      report({
        path: at.part(first),
        message: sentence(names, circuit.supplies),
        related: [
          ...others.map((name) => ({ path: at.part(name), message: `${quote(name)} as well` })),
          ...circuit.supplies.map((supply) => ({ path: at.part(supply), message: feeds(supply) })),
        ],
        parts: [...names, ...circuit.supplies],
      });
    }
  },
});

function sentence(names: readonly string[], supplies: readonly string[]): string {
  const minus = `on the minus of ${quotedList(supplies)}`;
  const isOne = names.length === 1;
  const reversed = isOne
    ? `is the wrong way round: its plus is ${minus}`
    : `are the wrong way round: their plus is ${minus}`;
  const swap = isOne ? 'its two conductors' : 'the two conductors that feed them';
  return `${quotedList(names)} ${reversed}. Electronics can be destroyed by it: isolate the supply, then swap ${swap}.`;
}

/** 1 where the element's first terminal is marked plus (or its second minus), -1 the other way round, 0 where nothing is marked. */
function directionOf(part: ResolvedPart | undefined, { element }: ResolvedElement): -1 | 0 | 1 {
  const [a, b] = [poleOf(part, element.a), poleOf(part, element.b)];
  if (a === 'plus' || b === 'minus') return a === 'minus' || b === 'plus' ? 0 : 1;
  return a === 'minus' || b === 'plus' ? -1 : 0;
}
