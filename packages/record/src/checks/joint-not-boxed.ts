import type { Analysis } from '../analysis-types.js';
import type { Fix } from '../finding.js';
import { quote } from '../judging/words.js';
import { type LineSide, lineSideOf } from '../line-side/line-side.js';
import { DEFERS } from '../line-side/words.js';
import type { Splice } from '../model.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const jointNotBoxed = defineCheck({
  code: 'joint-not-boxed',
  severity: 'error',
  title: 'A line-voltage joint is outside a box',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const lineSide = lineSideOf(analysis);
    if (lineSide === undefined) return;
    for (const splice of analysis.installation.splices) {
      const { name, place } = splice;
      const net = lineSide.netOf(name);
      // Of a bell wire that is joined to the mains there is something worse to say.
      if (lineSide.isMixed(net)) continue;
      if (!isOfLineSide(analysis, lineSide, name) || lineSide.isHeld(net) || lineSide.boxAround(place)) continue;
      report({
        path: at.part(name),
        message: `${quote(name)} joins line-voltage conductors ${place === undefined ? 'in no box that is recorded' : `in ${quote(place)}, outside a box`}: a loose joint heats, and nothing keeps it from what burns. Put it in a \`box\`. ${DEFERS}`,
        parts: [name],
        mends: () => boxed(lineSide, splice),
      });
    }
  },
});

/** On hot or neutral; or of the grounding conductors that come with them in one cable. */
function isOfLineSide(analysis: Analysis, lineSide: LineSide, splice: string): boolean {
  const net = lineSide.netOf(splice);
  if (lineSide.isLine(net)) return true;
  return (
    lineSide.isGround(net) &&
    analysis.landedOn(splice).some((landed) => landed.kind === 'conductor' && lineSide.carriesLine(landed.run))
  );
}

/** Into the one box that is where the splice is. */
function boxed(lineSide: LineSide, { name, place }: Splice): readonly Fix[] {
  const near = lineSide.boxes.filter((box) => place === undefined || lineSide.placesAround(box.place).includes(place));
  const [box] = near;
  if (box === undefined || near.length > 1) return [];
  return [
    {
      title: `Put ${quote(name)} in ${quote(box.name)}`,
      changes: [{ kind: 'set-place', splice: name, place: box.name }],
    },
  ];
}
