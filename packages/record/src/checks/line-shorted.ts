import { quote } from '../judging/words.js';
import { groundedOn } from '../line-side/grounded.js';
import { lineSideOf } from '../line-side/line-side.js';
import { isShorted } from '../line-side/swapped.js';
import { branchWords, DEFERS } from '../line-side/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const lineShorted = defineCheck({
  code: 'line-shorted',
  severity: 'error',
  title: 'Hot is joined to neutral or to ground',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    const lineSide = lineSideOf(analysis);
    for (const branch of lineSide?.branches ?? []) {
      const { hot, neutral, ground, part } = branch;
      const net = lineSide!.netOf(hot.point);
      if (lineSide!.isHeld(net)) continue;
      const live = groundedOn(lineSide!, branch, net);
      const other = isShorted(lineSide!, branch) ? neutral!.point : live;
      if (other === undefined) continue;
      const isOwn = other === neutral?.point || other === ground?.point;
      const splices = analysis.installation.splices.filter(({ name }) => lineSide!.netOf(name) === net);
      report({
        path: at.part(part.name),
        message: isOwn
          ? `${quote(hot.point)} and ${quote(other)} of ${branchWords(branch)} are joined by wire, splices and closed contacts alone: the breaker trips when it is put on. ${DEFERS}`
          : `${quote(other)} is for grounding and is on the hot conductor of ${branchWords(branch)}: metal that hands touch is live. ${DEFERS}`,
        related: splices.map(({ name }) => ({ path: at.part(name), message: `${quote(name)} is on it` })),
        parts: [part.name, ...splices.map(({ name }) => name)],
      });
    }
  },
});
