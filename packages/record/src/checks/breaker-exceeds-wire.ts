import { thickerThan } from '../judging/mends.js';
import { amps, areaOf, sizeWords } from '../judging/units.js';
import { quote } from '../judging/words.js';
import type { Fix } from '../finding.js';
import { type ProtectedRun, protectedRuns } from '../line-side/branch-wire.js';
import { type Branch, lineSideOf } from '../line-side/line-side.js';
import { DEFERS } from '../line-side/words.js';
import { at } from '../place-in-record.js';
import { breakerRow, standardBreakers } from '../regions/line-limits.js';
import { regionOf } from '../regions/regions.js';
import { defineCheck } from './types.js';

export const breakerExceedsWire = defineCheck({
  code: 'breaker-exceeds-wire',
  severity: 'error',
  title: 'A breaker is larger than the conductors on it allow',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const { broken, profile } = analysis.installation;
    for (const branch of lineSideOf(analysis)?.branches ?? []) {
      const beyond = protectedRuns(analysis, branch).filter(
        ({ run, amps: most, row }) => !broken.has(run.run.name) && row !== undefined && most > row.amps + 1e-9,
      );
      const [worst] = [...beyond].sort(
        (one, other) => one.row!.amps - other.row!.amps || (one.run.run.name < other.run.run.name ? -1 : 1),
      );
      if (worst === undefined) continue;
      const { run, amps: most, by, row } = worst;
      const name = run.run.name;
      report({
        path: at.cable(name),
        message: `${quote(name)} is ${sizeWords(run.cable!.size!)}, which ${amps(row!.amps)} may protect at most (${row!.source}); ${quote(by)} lets ${amps(most)} through. A conductor overheats before such a breaker trips. ${DEFERS}`,
        related: [
          {
            path: analysis.parts.get(by)?.stated.has('breaker') ? at.fact(by, 'breaker') : at.part(by),
            message: `${amps(most)} here`,
          },
          ...beyond
            .filter((one) => one !== worst)
            .map((one) => ({ path: at.cable(one.run.run.name), message: `${quote(one.run.run.name)} too` })),
        ],
        parts: [name, by],
        mends: () => mendsOf(profile, branch, worst, beyond),
      });
    }
  },
});

/** A smaller breaker, where that is what protects them all; else thicker conductors. */
function mendsOf(
  profile: string,
  branch: Branch,
  worst: ProtectedRun,
  beyond: readonly ProtectedRun[],
): readonly Fix[] {
  const mends: Fix[] = [];
  const { name } = regionOf(profile);
  const smaller = standardBreakers[name].findLast((size) => size <= worst.row!.amps);
  if (worst.by === branch.part.name && smaller !== undefined) {
    const title = `Change the breaker of ${quote(branch.part.name)} to ${amps(smaller)}`;
    mends.push({ title, changes: [{ kind: 'set-breaker', part: branch.part.name, amps: smaller }] });
  }
  const sizes = thickerThan(worst.run.cable?.size).filter(
    (size) => (breakerRow(profile, size, 'copper', false)?.amps ?? 0) >= worst.amps,
  );
  const [enough] = [...sizes].sort((one, other) => areaOf(one) - areaOf(other));
  if (enough !== undefined) {
    const runs = beyond.filter(({ amps: most }) => most === worst.amps).map(({ run }) => run.run.name);
    const title = `Put ${sizeWords(enough)} in ${runs.map(quote).join(', ')}`;
    mends.push({ title, changes: runs.map((run) => ({ kind: 'set-cable', run, size: enough })) });
  }
  return mends;
}
