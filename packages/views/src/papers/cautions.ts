/** The cautions that go with every set of papers. */

import { EXIT_CAUTION } from '../words.js';
import type { Paper } from './paper.js';
import { tradeWords } from './trade-words.js';

function cautionItems(profile: string, hasLock = false): string[] {
  const { mainsSide, ground } = tradeWords(profile);
  return [
    `Work on the ${mainsSide} is for a licensed electrician, to local code. Nothing on these papers says how to do it.`,
    'Photograph every screw and splice before lifting a wire.',
    'Isolate the supply first. A bell transformer may hang on a smoke-alarm, furnace or garage circuit, and a neutral may be shared with another circuit. Lock and tag what you switched off.',
    `Prove it dead with a tester that you have proved on a known live source before and after. Test all conductors to each other and to ${ground}. A pen tester that stays dark or a chime that stays silent proves nothing.`,
    `Conductors of the ${mainsSide} and bell wires share no cable and no screw, nor a box unless it has a barrier made for that.`,
    'A transformer or a resistor that is too hot to keep a hand on, or that smells, is switched off and looked into.',
    'Do not hold a button down longer than a second or two: the coil and the transformer are made for a push.',
    'Use a fuse or transformer of the rating that the record has, never a larger one to make a fault go away.',
    ...(hasLock ? [EXIT_CAUTION] : []),
    'The figures here are computed from the record, not measured. A reading outside its band means that the record or the wiring is wrong: find out which before you go on.',
  ];
}

export function cautionPaper(profile: string, hasLock = false): Paper {
  return { name: 'cautions', title: 'Cautions', blocks: [{ kind: 'list', items: cautionItems(profile, hasLock) }] };
}
