import { quote } from '../judging/words.js';
import { lineSideOf } from '../line-side/line-side.js';
import { isShorted } from '../line-side/swapped.js';
import { branchWords, DEFERS } from '../line-side/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const lineShorted = defineCheck({
  code: 'line-shorted',
  severity: 'error',
  title: 'Hot is joined to neutral or to ground',
  forbidsAccepting: true,
  run(analysis, report) {
    const lineSide = lineSideOf(analysis);
    for (const branch of lineSide?.branches ?? []) {
      const { hot, neutral, ground, part } = branch;
      const net = lineSide!.netOf(hot.point);
      if (lineSide!.isHeld(net)) continue;
      const isGround = ground !== undefined && lineSide!.same(hot.point, ground.point);
      if (!isShorted(lineSide!, branch) && !isGround) continue;
      const other = isGround ? ground! : neutral!;
      const splices = analysis.installation.splices.filter(({ name }) => lineSide!.netOf(name) === net);
      report({
        path: at.part(part.name),
        message: `${quote(hot.point)} and ${quote(other.point)} of ${branchWords(branch)} are joined by wire, splices and closed contacts alone: the breaker trips when it is put on. ${DEFERS}`,
        related: splices.map(({ name }) => ({ path: at.part(name), message: `${quote(name)} is on it` })),
        parts: [part.name, ...splices.map(({ name }) => name)],
      });
    }
  },
});
