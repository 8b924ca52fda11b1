import { quote } from '../judging/words.js';
import { groundedOn } from '../line-side/grounded.js';
import { lineSideOf } from '../line-side/line-side.js';
import { isShorted } from '../line-side/swapped.js';
import { branchWords, DEFERS } from '../line-side/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const neutralGrounded = defineCheck({
  code: 'neutral-grounded',
  severity: 'error',
  title: 'Neutral and ground are joined beyond the panel',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const lineSide = lineSideOf(analysis);
    for (const branch of lineSide?.branches ?? []) {
      const { neutral, part } = branch;
      if (neutral === undefined || isShorted(lineSide!, branch)) continue;
      const net = lineSide!.netOf(neutral.point);
      const grounded = groundedOn(lineSide!, branch, net);
      if (grounded === undefined || lineSide!.isHeld(net)) continue;
      const splices = analysis.installation.splices.filter(({ name }) => lineSide!.netOf(name) === net);
      report({
        path: at.part(part.name),
        message: `Neutral and ground of ${branchWords(branch)} are joined in what it feeds, at ${quote(grounded)}: grounded metal then carries current, and is live where the neutral breaks. ${DEFERS}`,
        related: splices.map(({ name }) => ({ path: at.part(name), message: `${quote(name)} is on both` })),
        parts: [part.name, ...splices.map(({ name }) => name)],
      });
    }
  },
});
