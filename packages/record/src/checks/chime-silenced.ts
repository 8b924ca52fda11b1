import { type Analysis, type CircuitAnalysis, pointOf, type ResolvedElement } from '../analysis-types.js';
import { studyOf } from '../judging/study.js';
import { jumperWords, listOf, quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const chimeSilenced = defineCheck({
  code: 'chime-silenced',
  severity: 'info',
  title: 'A bypassed chime can no longer ring',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).circuits) {
      const coils = studyOf(analysis).elementsOf(circuit, 'coil');
      for (const name of new Set(coils.map(({ part }) => part))) {
        const wired = coils.filter((coil) => coil.part === name && isWired(analysis, coil));
        const bypassed = wired.filter((coil) => studyOf(analysis).isBypassed(coil, []));
        if (bypassed.length === 0) continue;
        const jumpers = jumpersAcross(analysis, circuit, bypassed);
        const all = bypassed.length === wired.length;
        const terminals = bypassed.map(({ element }) => quote(element.b));
        const extent = all ? 'can no longer ring' : `can no longer ring from ${terminals.join(' and ')}`;
        const by =
          jumpers.length === 0
            ? 'its coil is bypassed'
            : `its coil is bypassed by ${listOf(jumpers.map((jumper) => jumperWords(analysis, jumper)))}`;
        report({
          path: at.part(name),
          message: `${quote(name)} ${extent}: ${by}. Whoever presses has to be heard another way.`,
          related: jumpers.map((jumper) => ({ path: at.jumper(jumper), message: 'the bypass' })),
          parts: [name, ...jumpers],
        });
      }
    }
  },
});

function isWired(analysis: Analysis, { part, element }: ResolvedElement): boolean {
  return [element.a, element.b].every((terminal) => analysis.landedOn(pointOf({ part, terminal })).length > 0);
}

function jumpersAcross(analysis: Analysis, circuit: CircuitAnalysis, coils: readonly ResolvedElement[]) {
  return circuit.jumpers.filter((name) => {
    const jumper = analysis.jumpers.get(name);
    const ends = jumper === undefined ? [] : [pointOf(jumper.from), pointOf(jumper.to)];
    return coils.some(({ a, b }) => ends.includes(a) && ends.includes(b));
  });
}
