import { amps, labelVolts, voltAmperes } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { type BranchLoad, branchLoad } from '../line-side/branch-load.js';
import { lineSideOf } from '../line-side/line-side.js';
import { branchWords, DEFERS } from '../line-side/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const branchOverloaded = defineCheck({
  code: 'branch-overloaded',
  severity: 'error',
  title: 'A branch circuit carries more than its breaker allows',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const lineSide = lineSideOf(analysis);
    for (const branch of lineSide?.branches ?? []) {
      if (lineSide!.isHeld(lineSide!.netOf(branch.hot.point))) continue;
      const load = branchLoad(analysis, lineSide!, branch);
      const { breakerAmps, countedAmps, fed } = load;
      if (breakerAmps === undefined || countedAmps <= breakerAmps + 1e-9) continue;
      const stated = branch.part.stated.has('breaker');
      report({
        path: stated ? at.fact(branch.part.name, 'breaker') : at.part(branch.part.name),
        message: `${branchWords(branch)} is asked for ${sumWords(load)}: ${amps(countedAmps)} against its ${amps(breakerAmps)} breaker. Take something off it, or feed the new part from another circuit. ${DEFERS}`,
        related: fed.map(({ part, voltAmperes: va }) => ({
          path: at.part(part.name),
          message: `${voltAmperes(va)} at ${labelVolts(branch.volts)}`,
        })),
        parts: [branch.part.name, ...fed.map(({ part }) => part.name)],
      });
    }
  },
});

/** "13 A that it feeds already and 0.25 A for `bell-tx`, 0.25 A of it continuous and counted 1.25 times". */
function sumWords({ existing, fed, factor }: BranchLoad): string {
  const own = fed.map(({ part, amps: drawn }) => `${amps(drawn)} for ${quote(part.name)}`);
  const before = existing === undefined ? [] : [`${amps(existing.amps)} that it feeds already`];
  const continuous = (existing?.continuousAmps ?? 0) + fed.reduce((sum, one) => sum + one.amps, 0);
  const counted =
    factor.value === 1 || continuous === 0
      ? ''
      : `, ${amps(continuous)} of it continuous and counted ${factor.value} times`;
  return [...before, ...own].join(' and ') + counted;
}
