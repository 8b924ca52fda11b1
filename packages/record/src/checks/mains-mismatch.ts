import { labelVolts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { lineSideOf } from '../line-side/line-side.js';
import { DEFERS } from '../line-side/words.js';
import { at } from '../place-in-record.js';
import { lineLimit } from '../regions/line-limits.js';
import { regionOf } from '../regions/regions.js';
import { defineCheck } from './types.js';

export const mainsMismatch = defineCheck({
  code: 'mains-mismatch',
  severity: 'error',
  title: 'A primary is made for other mains',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const { broken, profile } = analysis.installation;
    const { mains } = regionOf(profile);
    const share = lineLimit('mainsMismatch', profile)!.value;
    for (const part of analysis.parts.values()) {
      const primary = part.elements.find(({ element }) => element.kind === 'primary');
      const made = primary?.element.kind === 'primary' ? primary.element.volts : undefined;
      if (primary === undefined || made === undefined || broken.has(part.name)) continue;
      // One that another supply's winding feeds has nothing to do with the mains.
      const branch = lineSideOf(analysis)?.feederOf(part);
      if (branch === undefined && isFedByAWinding(analysis, primary.a)) continue;
      const volts = branch?.volts ?? mains.mainsVolts;
      if (Math.abs(volts - made) <= made * share) continue;
      const where = branch === undefined ? `the mains of the profile ${quote(profile)}` : quote(branch.part.name);
      report({
        path: at.part(part.name),
        message: `${quote(part.name)} is made for ${labelVolts(made)} on its line side; ${where} gives ${labelVolts(volts)}. ${volts > made ? 'It gives too much on its low-voltage side, and burns out' : 'It gives too little on its low-voltage side'}. ${DEFERS}`,
        parts: [part.name, ...(branch === undefined ? [] : [branch.part.name])],
      });
    }
  },
});

function isFedByAWinding(analysis: Parameters<typeof lineSideOf>[0], point: string): boolean {
  return analysis.landedOn(point).length > 0;
}
