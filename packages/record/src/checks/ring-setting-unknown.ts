import { studyOf } from '../judging/study.js';
import { quote, quotedList } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const ringSettingUnknown = defineCheck({
  code: 'ring-setting-unknown',
  severity: 'hint',
  title: "A doorbell's ring setting is not stated, and its chime is bypassed",
  reach: 'cluster',
  run(analysis, report) {
    const study = studyOf(analysis);
    for (const circuit of study.circuits) {
      const component = study.componentOf(circuit);
      const bypassed = study.elementsOf(circuit, 'coil').filter((coil) => study.isBypassed(coil, []));
      if (bypassed.length === 0) continue;
      for (const contact of study.absentContacts(component)) {
        const stated = analysis.parts.get(contact.part)?.facts.ring;
        if (stated !== undefined || !study.isFullyFed(contact, [])) continue;
        const chimes = [...new Set(bypassed.map(({ part }) => part))];
        report({
          path: at.part(contact.part),
          message: `How ${quote(contact.part)} is set to ring is not recorded, and ${quotedList(chimes)} is bypassed: set to ring a wired chime, it would short the supply at every press. Set it to none in its app and write \`ring none\`.`,
          related: chimes.map((name) => ({ path: at.part(name), message: 'bypassed' })),
          parts: [contact.part, ...chimes],
        });
      }
    }
  },
});
