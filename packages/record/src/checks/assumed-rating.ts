import type { Analysis, Assumption, ResolvedElement } from '../analysis-types.js';
import { judgeLoad } from '../judging/judge-load.js';
import { limits } from '../judging/limits.js';
import { studyOf, voltsAcross } from '../judging/study.js';
import { share } from '../judging/units.js';
import { listOf, quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

/** Findings whose figures are computed, and so lean on whatever was assumed. */
const COMPUTED = new Set([
  'device-undervoltage',
  'device-overvoltage',
  'load-collapses',
  'supply-overloaded',
  'chime-never-rings',
  'chime-energized-idle',
  'chime-hums',
  'bypass-missing',
  'resistor-overheats',
  'contact-overloaded',
  'conductor-overcurrent',
]);

export const assumedRating = defineCheck({
  code: 'assumed-rating',
  severity: 'hint',
  title: 'A finding or a thin margin leans on an assumed figure',
  runAfter(analysis, found, report) {
    const leaning = new Map<string, string>();
    for (const { check, parts } of found) {
      if (!COMPUTED.has(check.code)) continue;
      const circuits = parts.flatMap((part) => analysis.circuitsOfPart(part));
      const supplies = circuits.flatMap((circuit) => circuit.supplies);
      for (const part of [...parts, ...supplies])
        if (!leaning.has(part)) leaning.set(part, `${quote(check.code)} leans on that`);
    }
    for (const [part, margin] of thinMargins(analysis)) {
      if (!leaning.has(part)) leaning.set(part, `the margin of ${share(margin)} leans on that`);
    }
    for (const [part, why] of leaning) {
      const assumed = analysis.assumptions.filter((one) => one.part === part && one.what !== 'unsolved');
      if (assumed.length === 0 || !analysis.parts.has(part)) continue;
      report({ path: at.part(part), message: sentence(part, assumed, why), parts: [part] });
    }
    for (const { part, words } of analysis.assumptions.filter(({ what }) => what === 'unsolved')) {
      report({ path: at.part(part), message: `${quote(part)}: ${words}.`, parts: [part] });
    }
  },
});

function sentence(part: string, assumed: readonly Assumption[], why: string): string {
  const shown = assumed.slice(0, 3).map(({ words }) => words);
  const more = assumed.length > 3 ? `, and ${assumed.length - 3} more` : '';
  return `Assumed for ${quote(part)}: ${listOf(shown)}${more}; ${why}. A figure read off its label counts instead.`;
}

/** Parts within a small margin of their least volts, and their supplies, with the margin. */
function thinMargins(analysis: Analysis): ReadonlyMap<string, number> {
  const margins = new Map<string, number>();
  const note = (part: string, margin: number) => margins.set(part, Math.min(margin, margins.get(part) ?? 1));
  const study = studyOf(analysis);
  for (const circuit of study.measured) {
    for (const element of study.elementsOf(circuit, 'load', 'coil')) {
      const margin =
        element.element.kind === 'load'
          ? judgeLoad(analysis, circuit, element).margin
          : ringingMargin(analysis, element);
      if (margin === undefined || margin < 0 || margin >= limits.thinMargin) continue;
      for (const part of [element.part, ...circuit.supplies]) note(part, margin);
    }
  }
  return margins;
}

function ringingMargin(analysis: Analysis, coil: ResolvedElement): number | undefined {
  const study = studyOf(analysis);
  const circuit = analysis.circuitOfElement(coil.id);
  const { ringsFromVolts } = coil;
  if (circuit === undefined || ringsFromVolts === undefined) return undefined;
  const ringers = study.ringersOf(coil, circuit);
  const rung = study
    .figures(circuit, 'nominal')
    .filter(({ state }) => state.closed.length === 1 && ringers.includes(state.closed[0]!))
    .flatMap((solved) => voltsAcross(solved, coil) ?? []);
  return rung.length === 0 ? undefined : Math.min(...rung) / ringsFromVolts - 1;
}
