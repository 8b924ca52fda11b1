import { sumOverWindings } from '../judging/delivered.js';
import { limits, standardAmpereHours } from '../judging/limits.js';
import { ampsThrough, studyOf } from '../judging/study.js';
import { amps, share } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const standbyTooShort = defineCheck({
  code: 'standby-too-short',
  severity: 'warning',
  title: 'A battery does not last the hours wanted',
  reach: 'cluster',
  run(analysis, report) {
    const supplies = new Set(studyOf(analysis).circuits.flatMap(({ supplies: names }) => names));
    for (const name of supplies) {
      const { batteryAmpereHours: battery, standbyHours: wanted } = analysis.parts.get(name)?.facts ?? {};
      if (battery === undefined || wanted === undefined) continue;
      const drawn = sumOverWindings(
        analysis,
        name,
        (solved, winding) => ampsThrough(solved, winding.id),
        ({ state }) => state.closed.length === 0 && state.loads === 'idle',
      );
      if (drawn === undefined || drawn <= 0) continue;
      const lasts = (battery * limits.batteryShare) / drawn;
      if (lasts >= wanted - 1e-9) continue;
      const needed = (wanted * drawn) / limits.batteryShare;
      report({
        path: at.fact(name, 'standby'),
        message: `${quote(name)} gives ${amps(drawn)} at rest: ${hours(battery)} Ah last ${hours(lasts)} h of the ${hours(wanted)} h wanted, counting ${share(limits.batteryShare)} of the battery. ${hours(Math.ceil(needed * 10) / 10)} Ah would.`,
        related: [{ path: at.fact(name, 'battery'), message: 'the battery' }],
        parts: [name],
        mends: () => {
          const size = standardAmpereHours.find((one) => one >= needed - 1e-9);
          if (size === undefined) return [];
          const title = `Put a battery of ${size} Ah in ${quote(name)}`;
          return [{ title, changes: [{ kind: 'set-battery', part: name, ampereHours: size }] }];
        },
      });
    }
  },
});

function hours(value: number): string {
  return String(Number(value.toFixed(1)));
}
