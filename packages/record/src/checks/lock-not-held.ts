import { mostVolts } from '../judging/judge-armature.js';
import { studyOf } from '../judging/study.js';
import { volts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const lockNotHeld = defineCheck({
  code: 'lock-not-held',
  severity: 'warning',
  title: 'A lock that holds while it is fed is not fed at rest',
  reach: 'cluster',
  run(analysis, report) {
    const study = studyOf(analysis);
    for (const circuit of study.measured) {
      if (circuit.supplies.length === 0 || study.hasLooseEnd(study.componentOf(circuit))) continue;
      for (const lock of study.elementsOf(circuit, 'coil', 'load')) {
        const below = lock.releasesBelowVolts;
        if (below === undefined) continue;
        const rest = mostVolts(analysis, circuit, lock, (closed) => closed.length === 0);
        const ever = mostVolts(analysis, circuit, lock, () => true);
        if (rest === undefined || rest.volts >= below || ever === undefined || ever.volts < below) continue;
        report({
          path: at.part(lock.part),
          message: `${quote(lock.part)} gets ${volts(rest.volts)} at rest, so it holds nothing until something is pressed; it lets go below ${volts(below)}. Feed it through contacts that are closed at rest (NC) and open when pressed.`,
          parts: [lock.part],
        });
      }
    }
  },
});
