import type { Analysis, CircuitAnalysis, ElementFigures, ResolvedElement } from '../analysis-types.js';
import { worksOnItsLabel } from '../judging/feeding.js';
import { limits } from '../judging/limits.js';
import { lossesTo, lossWords, type RunLoss } from '../judging/losses.js';
import { loadWords, stateWords } from '../judging/state-words.js';
import { extreme, studyOf } from '../judging/study.js';
import { labelVolts, share, volts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const dropHigh = defineCheck({
  code: 'drop-high',
  severity: 'info',
  title: 'Much of the supply is lost in wire',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      const supply = studyOf(analysis).elementsOf(circuit, 'winding')[0];
      const rated = supply?.ratedVolts;
      if (rated === undefined) continue;
      const byRun = new Map<
        string,
        { element: ResolvedElement; lost: number; losses: readonly RunLoss[]; when: string }
      >();
      for (const element of studyOf(analysis).elementsOf(circuit, 'load', 'coil', 'lamp')) {
        if (element.element.kind === 'lamp' && !worksOnItsLabel(analysis, element)) continue;
        const worst = worstLoss(analysis, circuit, element);
        const run = worst?.losses[0]?.run;
        if (worst === undefined || run === undefined || worst.lost <= rated * limits.planningDrop) continue;
        if (worst.lost > (byRun.get(run)?.lost ?? 0)) byRun.set(run, { element, ...worst });
      }
      for (const [run, { element, lost, losses, when }] of byRun) {
        report({
          path: at.cable(run),
          message: () =>
            `${volts(lost)} of the ${labelVolts(rated)} of ${quote(supply!.part)} (${share(lost / rated)}) is lost in wire on the way to ${quote(element.part)} ${when}; ${share(limits.planningDrop)} is what one plans for. ${lossWords(analysis, losses) ?? ''}.`,
          related: [{ path: at.part(element.part), message: `${quote(element.part)} is at the far end` }],
          parts: [element.part, run],
        });
      }
    }
  },
});

/** A bypassed coil is on, and carries nothing. */
function isWorking(figures: ElementFigures | undefined): boolean {
  if (figures === undefined || !figures.on || figures.amps === null) return false;
  return Math.hypot(figures.amps.re, figures.amps.im) > 1e-3;
}

function worstLoss(analysis: Analysis, circuit: CircuitAnalysis, element: ResolvedElement) {
  const working = studyOf(analysis)
    .figures(circuit, 'nominal')
    .filter(({ solution, state }) => state.closed.length < 2 && isWorking(solution.element(element.id)));
  const withLosses = working.map((solved) => ({ solved, losses: lossesTo(analysis, circuit, solved, element) }));
  const sum = (losses: readonly RunLoss[]) => losses.reduce((total, { volts: lost }) => total + lost, 0);
  const worst = extreme(withLosses, ({ losses }) => sum(losses), 'most');
  if (worst === undefined) return undefined;
  const { state } = worst.item.solved;
  return { lost: worst.figure, losses: worst.item.losses, when: stateWords(analysis, state.closed) + loadWords(state) };
}
