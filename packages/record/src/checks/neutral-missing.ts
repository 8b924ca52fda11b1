import type { Analysis, ResolvedPart } from '../analysis-types.js';
import type { Fix } from '../finding.js';
import { isEmpty } from '../judging/feeding.js';
import { quote } from '../judging/words.js';
import { foremostOf } from '../line-side/foremost.js';
import { type Branch, type LineSide, lineSideOf, type Marked } from '../line-side/line-side.js';
import { isSwapped } from '../line-side/swapped.js';
import { DEFERS } from '../line-side/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const neutralMissing = defineCheck({
  code: 'neutral-missing',
  severity: 'error',
  title: 'A line-voltage part has no neutral of its circuit',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const lineSide = lineSideOf(analysis);
    if (lineSide === undefined) return;
    const wanting = [...analysis.parts.values()].filter(
      (part) => missingNeutral(analysis, lineSide, part) !== undefined,
    );
    const netOf = (part: ResolvedPart) => lineSide.netOf(missingNeutral(analysis, lineSide, part)!.point);
    for (const [part, ...others] of foremostOf(analysis, wanting, netOf)) {
      const branch = lineSide.feederOf(part)!;
      const missing = missingNeutral(analysis, lineSide, part)!;
      const other = lineSide.branchOfNeutral(lineSide.netOf(missing.point));
      report({
        path: at.part(part.name),
        message:
          other === undefined
            ? `${quote(part.name)} has the hot conductor of ${quote(branch.part.name)} and no neutral: ${quote(missing.point)} is joined to nothing that goes back to the panel. ${DEFERS}`
            : `${quote(part.name)} has the hot conductor of ${quote(branch.part.name)} and the neutral of ${quote(other.part.name)}: with one breaker off that neutral may still be live. ${DEFERS}`,
        related: others.map(({ name }) => ({ path: at.part(name), message: `${quote(name)} is fed from it` })),
        parts: [part.name, ...others.map(({ name }) => name), branch.part.name],
        mends: () => (other === undefined ? leads(analysis, lineSide, part, branch, missing.terminal) : []),
      });
    }
  },
});

/** The neutral terminal of a part with a hot conductor that is not on the neutral of the same circuit. */
function missingNeutral({ installation }: Analysis, lineSide: LineSide, part: ResolvedPart): Marked | undefined {
  const branch = lineSide.feederOf(part);
  if (branch?.neutral === undefined || installation.broken.has(part.name)) return undefined;
  if (lineSide.branches.some((one) => isSwapped(lineSide, part, one))) return undefined;
  return lineSide.markedOf(part, 'neutral').find(({ point }) => {
    const net = lineSide.netOf(point);
    // What leads on may come back to the neutral somewhere else; that of another circuit does not.
    const mayComeBack = lineSide.leadsOn(net) && lineSide.branchOfNeutral(net) === undefined;
    return !lineSide.same(point, branch.neutral!.point) && !mayComeBack && !lineSide.isHeld(net);
  });
}

/** Where nothing is on the terminal: its lead on a splice of the circuit's neutrals in the box where its hot conductor is. */
function leads(
  analysis: Analysis,
  lineSide: LineSide,
  part: ResolvedPart,
  branch: Branch,
  terminal: string,
): readonly Fix[] {
  if (!isEmpty(analysis, part.name, terminal)) return [];
  return analysis.installation.splices
    .filter(({ name }) => lineSide.same(name, branch.neutral!.point))
    .map(({ name }) => ({
      title: `Land ${quote(terminal)} of ${quote(part.name)} on ${quote(name)}`,
      changes: [{ kind: 'set-lead', part: part.name, terminal, on: { part: name } }],
    }));
}
