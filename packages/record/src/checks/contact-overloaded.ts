import { takesPower } from '../judging/state-words.js';
import { ampsThrough, extreme, studyOf, voltsAcross } from '../judging/study.js';
import { amps, labelVolts, ratingWords, volts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const contactOverloaded = defineCheck({
  code: 'contact-overloaded',
  severity: 'error',
  title: 'A contact switches more than it carries',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      for (const contact of studyOf(analysis).elementsOf(circuit, 'contact')) {
        const rating = analysis.parts.get(contact.part)?.rating;
        if (rating === undefined || takesPower(analysis, contact.part)) continue;
        const most = rating.volts?.most;
        const open = extreme(studyOf(analysis).figures(circuit, 'labels'), (one) => voltsAcross(one, contact), 'most');
        const closed = extreme(
          studyOf(analysis).figures(circuit, 'nominal'),
          (one) => ampsThrough(one, contact.id),
          'most',
        );
        const overVolts = most !== undefined && open !== undefined && open.figure > most + 1e-9;
        const overAmps = rating.amps !== undefined && closed !== undefined && closed.figure > rating.amps + 1e-9;
        if (!overVolts && !overAmps) continue;
        const path = analysis.parts.get(contact.part)!.stated.has('rating')
          ? at.fact(contact.part, 'rating')
          : at.part(contact.part);
        const words = overAmps
          ? `switches ${amps(closed.figure)}, and its label allows ${amps(rating.amps)}`
          : `opens ${volts(open!.figure)}, and its label allows ${labelVolts(most!)}`;
        report({
          path,
          message: `${quote(contact.contact ?? contact.part)} ${words} (${ratingWords(rating)}): the contact burns or sticks.`,
          parts: [contact.part, ...circuit.supplies],
        });
      }
    }
  },
});
