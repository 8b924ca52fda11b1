import type { Analysis, Landed, ResolvedPart } from '../analysis-types.js';
import type { Fix, RecordChange } from '../finding.js';
import { isEmpty } from '../judging/feeding.js';
import { quote } from '../judging/words.js';
import { foremostOf } from '../line-side/foremost.js';
import { type LineSide, lineSideOf } from '../line-side/line-side.js';
import { isSwapped } from '../line-side/swapped.js';
import { DEFERS } from '../line-side/words.js';
import type { End } from '../model.js';
import { at } from '../place-in-record.js';
import { regionOf } from '../regions/regions.js';
import { defineCheck } from './types.js';

export const hotNeutralSwapped = defineCheck({
  code: 'hot-neutral-swapped',
  severity: ['error', 'info'],
  title: 'Hot and neutral are the wrong way round',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const lineSide = lineSideOf(analysis);
    if (lineSide === undefined) return;
    const { plugsArePolarised } = regionOf(analysis.installation.profile);
    const swapped = [...analysis.parts.values()].filter(
      (part) =>
        !analysis.installation.broken.has(part.name) &&
        lineSide.markedOf(part, 'hot').length > 0 &&
        lineSide.branches.some((one) => isSwapped(lineSide, part, one)),
    );
    const netsOf = (part: ResolvedPart) =>
      [...lineSide.markedOf(part, 'hot'), ...lineSide.markedOf(part, 'neutral')]
        .map(({ point }) => lineSide.netOf(point))
        .sort()
        .filter((net, index, all) => net !== all[index - 1])
        .join(' ');
    for (const [part, ...others] of foremostOf(analysis, swapped, netsOf)) {
      const branch = lineSide.branches.find((one) => isSwapped(lineSide, part, one))!;
      const hot = lineSide.markedOf(part, 'hot')[0]!;
      const advice = plugsArePolarised
        ? `A fuse or switch in it then stands in the neutral, and it stays live when it is off. ${DEFERS}`
        : `Where plugs fit either way round parts are made for that; a fuse or switch in it then stands in the neutral. ${DEFERS}`;
      report({
        path: at.part(part.name),
        severity: plugsArePolarised ? 'error' : 'info',
        message: `${quote(part.name)} has hot and neutral of ${quote(branch.part.name)} the wrong way round: ${quote(hot.point)} is not on the hot conductor. ${advice}`,
        related: others.map(({ name }) => ({ path: at.part(name), message: `${quote(name)} has them from it` })),
        parts: [part.name, ...others.map(({ name }) => name), branch.part.name],
        mends: () => exchanged(analysis, lineSide, part),
      });
    }
  },
});

/** What is landed on a point, without conductors that go on to nobody knows where: those are right once the others are. */
function comingIn(analysis: Analysis, point: string): readonly Landed[] {
  return analysis.landedOn(point).filter((landed) => {
    if (landed.kind !== 'conductor') return true;
    const far = landed.end === 'from' ? 'to' : 'from';
    return analysis.runs.get(landed.run)?.run.conductors[landed.index]?.[far]?.kind === 'on';
  });
}

/** The conductors and leads on its two terminals change places. */
function exchanged(analysis: Analysis, lineSide: LineSide, part: ResolvedPart): readonly Fix[] {
  const used = (side: 'hot' | 'neutral') =>
    lineSide.markedOf(part, side).filter(({ terminal }) => !isEmpty(analysis, part.name, terminal));
  const [hot, neutral] = [used('hot'), used('neutral')];
  if (hot.length !== 1 || neutral.length !== 1) return [];
  const pair = [hot[0]!, neutral[0]!] as const;
  const changes: RecordChange[] = [];
  for (const [from, to] of [pair, [pair[1], pair[0]] as const]) {
    const on: End = { part: part.name, terminal: to.terminal };
    const landings = comingIn(analysis, from.point);
    if (landings.length > 1) return [];
    for (const landed of landings) {
      if (landed.kind !== 'conductor') return [];
      changes.push({ kind: 'land', run: landed.run, conductor: landed.index, end: landed.end, on });
    }
  }
  const stated = [...analysis.installation.supplies, ...analysis.installation.devices].find(
    ({ name }) => name === part.name,
  );
  const leads = (stated?.lands ?? []).filter(({ terminal }) => pair.some((one) => one.terminal === terminal));
  if (leads.length === 2) {
    const [one, other] = [leads[0]!, leads[1]!];
    changes.push({ kind: 'set-lead', part: part.name, terminal: one.terminal, on: other.on });
    changes.push({ kind: 'set-lead', part: part.name, terminal: other.terminal, on: one.on });
  } else if (leads.length > 0) return [];
  return changes.length === 0 ? [] : [{ title: `Exchange hot and neutral at ${quote(part.name)}`, changes }];
}
