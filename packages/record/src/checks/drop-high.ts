import type { Analysis, CircuitAnalysis, ElementFigures, ResolvedElement } from '../analysis-types.js';
import { worksOnItsLabel } from '../judging/feeding.js';
import { limits } from '../judging/limits.js';
import { lossesTo, lossWords, type RunLoss, runWords } from '../judging/losses.js';
import { circuitIn, gaugeThatHolds, type Mend } from '../judging/mends.js';
import { loadWords, stateWords } from '../judging/state-words.js';
import { extreme, studyOf } from '../judging/study.js';
import { labelVolts, share, volts } from '../judging/units.js';
import { wayTo } from '../judging/way.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const dropHigh = defineCheck({
  code: 'drop-high',
  severity: 'info',
  title: 'Much of the supply is lost in wire',
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      const byRun = new Map<string, Drop>();
      for (const element of studyOf(analysis).elementsOf(circuit, 'load', 'coil', 'lamp')) {
        if (element.element.kind === 'lamp' && !worksOnItsLabel(analysis, element)) continue;
        const drop = worstDrop(analysis, circuit, element);
        const run = drop?.losses[0]?.run;
        if (drop === undefined || run === undefined || drop.lost <= drop.rated * limits.planningDrop) continue;
        const known = byRun.get(run);
        // What is furthest along tells it where several lose the same.
        if (known === undefined || drop.lost > known.lost + 1e-9) byRun.set(run, drop);
      }
      for (const [run, drop] of byRun) {
        const { element } = drop;
        report({
          path: at.cable(run),
          message: () => sentence(analysis, drop, mendOf(analysis, drop)),
          related: [{ path: at.part(element.part), message: `${quote(element.part)} is at the far end` }],
          parts: [element.part, run],
        });
      }
    }
  },
});

interface Drop {
  readonly element: ResolvedElement;
  readonly supply: string;
  /** Volts of the label that feed it. */
  readonly rated: number;
  readonly lost: number;
  readonly losses: readonly RunLoss[];
  readonly when: string;
}

function sentence(
  analysis: Analysis,
  { element, supply, rated, lost, losses, when }: Drop,
  mend: Mend | undefined,
): string {
  const [only, ...more] = losses;
  const where = more.length === 0 && only !== undefined ? runWords(analysis, only.run) : 'wire';
  const each = more.length === 0 ? undefined : lossWords(analysis, losses);
  const would = mend === undefined ? undefined : `${mend.words} would lose ${volts(mend.figure)}`;
  const tail = [each, would].filter((words) => words !== undefined).join(': ');
  return `${volts(lost)} of the ${labelVolts(rated)} of ${quote(supply)} (${share(lost / rated)}) is lost in ${where} on the way to ${quote(element.part)} ${when}; ${share(limits.planningDrop)} is what one plans for.${tail === '' ? '' : ` ${tail}.`}`;
}

function mendOf(analysis: Analysis, { element, rated, losses }: Drop): Mend | undefined {
  return gaugeThatHolds(analysis, [element.part], losses, (after) => {
    const same = after.elements.get(element.id);
    const around = circuitIn(after, element);
    const drop = same && around && worstDrop(after, around, same);
    return drop === undefined || drop.lost > rated * limits.planningDrop ? undefined : drop.lost;
  });
}

/** A bypassed coil is on, and carries nothing. */
function isWorking(figures: ElementFigures | undefined): boolean {
  if (figures === undefined || !figures.on || figures.amps === null) return false;
  return Math.hypot(figures.amps.re, figures.amps.im) > 1e-3;
}

function worstDrop(analysis: Analysis, circuit: CircuitAnalysis, element: ResolvedElement): Drop | undefined {
  const working = studyOf(analysis)
    .figures(circuit, 'nominal')
    .filter(({ solution, state }) => state.closed.length < 2 && isWorking(solution.element(element.id)));
  const withLosses = working.map((solved) => ({ solved, losses: lossesTo(analysis, circuit, solved, element) }));
  const sum = (losses: readonly RunLoss[]) => losses.reduce((total, { volts: lost }) => total + lost, 0);
  const worst = extreme(withLosses, ({ losses }) => sum(losses), 'most');
  if (worst === undefined) return undefined;
  const { state } = worst.item.solved;
  const { windings } = wayTo(analysis, circuit, element, state.closed);
  const [supply] = windings;
  if (supply === undefined || windings.some(({ ratedVolts }) => ratedVolts === undefined)) return undefined;
  const rated = windings.reduce((total, { ratedVolts = 0 }) => total + ratedVolts, 0);
  const when = stateWords(analysis, state.closed) + loadWords(state);
  return { element, supply: supply.part, rated, lost: worst.figure, losses: worst.item.losses, when };
}
