/** What is concluded of a circuit's figures, in brief, to see whether it changes when a figure is moved. */

import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { atRest, judgeRinging } from './judge-coil.js';
import { judgeLoad } from './judge-load.js';
import { worstOverload } from './judge-supply.js';
import { limits } from './limits.js';
import { studyOf, voltsAcross } from './study.js';

export type VerdictKind = 'starves' | 'silent' | 'hums' | 'driven' | 'overloaded';

export interface Verdict {
  readonly kind: VerdictKind;
  readonly part: string;
  readonly severity: 'error' | 'warning';
}

/** By element and kind. */
export function verdictsOf(analysis: Analysis, circuit: CircuitAnalysis): ReadonlyMap<string, Verdict> {
  const study = studyOf(analysis);
  return study.once(`verdicts ${circuit.circuit.id}`, () => {
    const verdicts = new Map<string, Verdict>();
    const note = ({ id, part }: ResolvedElement, kind: VerdictKind, severity: Verdict['severity'] | undefined) => {
      if (severity !== undefined) verdicts.set(`${id} ${kind}`, { kind, part, severity });
    };
    for (const load of study.elementsOf(circuit, 'load')) {
      const { collapse, tooLittle } = judgeLoad(analysis, circuit, load);
      note(load, 'starves', (collapse ?? tooLittle)?.severity);
    }
    for (const coil of study.elementsOf(circuit, 'coil')) {
      note(coil, 'silent', judgeRinging(analysis, circuit, coil)?.severity);
      const resting = atRest(analysis, circuit, coil);
      if (resting === undefined) continue;
      const { ringsFromVolts, humsFromAmps } = coil;
      if (ringsFromVolts !== undefined && resting.volts >= ringsFromVolts - 1e-9) note(coil, 'driven', 'error');
      else if (humsFromAmps !== undefined && resting.amps >= humsFromAmps - 1e-9) note(coil, 'hums', 'warning');
    }
    for (const winding of study.elementsOf(circuit, 'winding')) {
      const severity = worstOverload(analysis, circuit, winding)?.severity;
      if (severity === 'error' || severity === 'warning') note(winding, 'overloaded', severity);
    }
    return verdicts;
  });
}

/** Whether some load or coil of the circuit is within the margin below which a moved figure may tell. */
export function hasThinMargin(analysis: Analysis, circuit: CircuitAnalysis): boolean {
  const study = studyOf(analysis);
  const isThin = (margin: number | undefined) => margin !== undefined && Math.abs(margin) < limits.thinMargin;
  return (
    study.elementsOf(circuit, 'load').some((load) => isThin(judgeLoad(analysis, circuit, load).margin)) ||
    study.elementsOf(circuit, 'coil').some((coil) => {
      const { humsFromAmps, ratedAmps = 0 } = coil;
      const resting = atRest(analysis, circuit, coil)?.amps;
      const isNearHum =
        humsFromAmps !== undefined &&
        resting !== undefined &&
        resting > 0.01 * ratedAmps &&
        isThin(resting / humsFromAmps - 1);
      return isNearHum || isThin(ringingMargin(analysis, circuit, coil));
    })
  );
}

function ringingMargin(analysis: Analysis, circuit: CircuitAnalysis, coil: ResolvedElement): number | undefined {
  const study = studyOf(analysis);
  const { ringsFromVolts } = coil;
  if (ringsFromVolts === undefined) return undefined;
  const ringers = study.ringersOf(coil, circuit);
  const rung = study
    .figures(circuit, 'nominal')
    .filter(({ state }) => state.closed.length === 1 && ringers.includes(state.closed[0]!))
    .flatMap((solved) => voltsAcross(solved, coil) ?? []);
  return rung.length === 0 ? undefined : Math.min(...rung) / ringsFromVolts - 1;
}
