import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { bypassFor, bypassWords, isChimeCoil, seriesCoil } from '../judging/bypassing.js';
import { atRest } from '../judging/judge-coil.js';
import { judgeLoad, type LoadVerdict } from '../judging/judge-load.js';
import { studyOf } from '../judging/study.js';
import { amps, labelVolts, share, voltAmperes, volts } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const bypassMissing = defineCheck({
  code: 'bypass-missing',
  severity: 'warning',
  title: "A load is fed through a chime's coil and starves, or makes it hum",
  reach: 'cluster',
  run(analysis, report) {
    for (const circuit of studyOf(analysis).measured) {
      for (const load of studyOf(analysis).elementsOf(circuit, 'load')) {
        const coil = seriesCoil(analysis, circuit, load);
        if (coil === undefined || !isChimeCoil(coil)) continue;
        const verdict = judgeLoad(analysis, circuit, load);
        const starved = verdict.collapse !== undefined || verdict.tooLittle !== undefined;
        const hums = humsAtRest(analysis, circuit, coil);
        if (!starved && hums === undefined) continue;
        report({
          path: at.part(load.part),
          message: () => `${sentence(load, coil, verdict, hums)} ${bypassWords(analysis, circuit, coil, load)}`,
          related: [{ path: at.part(coil.part), message: `the coil of ${quote(coil.part)} is in the way` }],
          parts: [load.part, coil.part],
          mends: () => bypassFor(analysis, circuit, coil),
        });
      }
    }
  },
});

/** What the coil carries at rest in words, where that is enough to hum. */
function humsAtRest(analysis: Analysis, circuit: CircuitAnalysis, coil: ResolvedElement): string | undefined {
  const { humsFromAmps, ratedAmps } = coil;
  if (humsFromAmps === undefined || ratedAmps === undefined) return undefined;
  const resting = atRest(analysis, circuit, coil);
  if (resting === undefined || resting.amps < humsFromAmps - 1e-9) return undefined;
  const part = share(resting.amps / ratedAmps);
  return `the coil carries ${part} of its rating and may hum from ${share(humsFromAmps / ratedAmps)}`;
}

function sentence(
  load: ResolvedElement,
  coil: ResolvedElement,
  { collapse, tooLittle }: LoadVerdict,
  hums: string | undefined,
): string {
  const effects: string[] = [];
  if (collapse !== undefined) {
    const asked = collapse.asked.unit === 'A' ? amps(collapse.asked.value) : voltAmperes(collapse.asked.value);
    const had = collapse.available === undefined ? '' : `, can have ${share(collapse.available)} of that`;
    effects.push(`it asks for ${asked}${had} and cuts out`);
  } else if (tooLittle !== undefined) {
    effects.push(`it is left with ${volts(tooLittle.volts)} of the ${labelVolts(tooLittle.label)} on its label`);
  }
  if (hums !== undefined) effects.push(hums);
  return `${quote(load.part)} is fed through the coil of ${quote(coil.part)}: ${effects.join('; ')}.`;
}
