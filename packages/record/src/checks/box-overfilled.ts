import { quote } from '../judging/words.js';
import { contentsOf } from '../line-side/box-contents.js';
import { boxFill, type FillTerm } from '../line-side/box-fill.js';
import { lineSideOf } from '../line-side/line-side.js';
import { cubicInches, DEFERS, inCubicInches, timesSize } from '../line-side/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const boxOverfilled = defineCheck({
  code: 'box-overfilled',
  severity: 'error',
  title: 'A box is too small for what is in it',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    if (analysis.installation.profile !== 'north-america') return;
    const lineSide = lineSideOf(analysis);
    for (const box of lineSide?.boxes ?? []) {
      if (box.volume === undefined || analysis.installation.broken.has(box.name)) continue;
      const contents = contentsOf(analysis, lineSide!, box);
      const fill = contents && boxFill(contents);
      const volume = inCubicInches(box.volume);
      if (fill === undefined || fill.cubicInches <= volume + 1e-6) continue;
      const sum = fill.terms.map(termWords).join(' + ');
      report({
        path: at.boxVolume(box.name),
        message: `${quote(box.name)} has ${cubicInches(volume)} in3 and needs ${cubicInches(fill.cubicInches)}: ${sum} (National Electrical Code, 314.16(B)). ${DEFERS}`,
        parts: [box.name],
      });
    }
  },
});

const WORDS: Readonly<Record<FillTerm['what'], string>> = {
  conductors: 'conductors',
  grounds: 'grounds',
  devices: 'devices',
  clamps: 'clamps',
};

/** "conductors 4 x 14 AWG (8)". */
function termWords({ what, count, size, cubicInches: taken }: FillTerm): string {
  return `${WORDS[what]} ${timesSize(count, size)} (${cubicInches(taken)})`;
}
