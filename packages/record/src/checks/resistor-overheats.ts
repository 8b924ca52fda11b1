import { loadWords, stateWords } from '../judging/state-words.js';
import { ampsThrough, extreme, studyOf } from '../judging/study.js';
import { ohms, watts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const resistorOverheats = defineCheck({
  code: 'resistor-overheats',
  severity: 'error',
  title: 'A resistor takes more than its watts',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const study = studyOf(analysis);
    for (const circuit of study.measured) {
      for (const resistor of study.elementsOf(circuit, 'resistor')) {
        const { element, ohms: value } = resistor;
        const stated = element.kind === 'resistor' ? element.watts : undefined;
        const rated = (element.asRated ? analysis.parts.get(resistor.part)?.rating?.watts : undefined) ?? stated;
        if (rated === undefined || value === undefined) continue;
        const lasting = study.figures(circuit, 'nominal').filter(({ state }) => study.lasts(state));
        const worst = extreme(lasting, (solved) => heat(ampsThrough(solved, resistor.id), value), 'most');
        if (worst === undefined || worst.figure <= rated + 1e-9) continue;
        const { state } = worst.item;
        report({
          path: at.part(resistor.part),
          message: `${quote(resistor.part)} (${ohms(value)}) turns ${watts(worst.figure)} into heat ${stateWords(analysis, state.closed)}${loadWords(state)}, and is made for ${watts(rated)}: it can burn. Isolate the supply and let it cool before touching it; one of ${watts(Math.ceil(worst.figure * 2))} or more has room.`,
          parts: [resistor.part, ...circuit.supplies],
        });
      }
    }
  },
});

function heat(amps: number | undefined, ohms: number): number | undefined {
  return amps === undefined ? undefined : amps * amps * ohms;
}
