import type { Analysis, ResolvedElement } from '../analysis-types.js';
import { limits } from '../judging/limits.js';
import { labelVolts, voltAmperes } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const class2Exceeded = defineCheck({
  code: 'class2-exceeded',
  severity: 'warning',
  title: 'A supply is beyond the power-limited class',
  run(analysis, report) {
    if (analysis.installation.profile !== 'north-america') return;
    for (const part of analysis.parts.values()) {
      const beyond = part.elements.flatMap((element) => beyondClass(element) ?? [])[0];
      if (beyond === undefined || isInOtherCable(analysis, part.name)) continue;
      report({
        path: part.stated.has('output') ? at.fact(part.name, 'output') : at.part(part.name),
        message: `${quote(part.name)} gives ${beyond}: bell wire and the way it is run assume a Class 2 supply. Beyond it the wiring methods of power circuits apply; local code and a licensed electrician decide.`,
        parts: [part.name],
      });
    }
  },
});

/** Cables listed for another use are wired by the rules of that use: nobody takes them for bell wire. */
function isInOtherCable(analysis: Analysis, part: string): boolean {
  const names = analysis.circuitsOfPart(part).flatMap(({ runs }) => runs);
  const cables = [...new Set(names)].map((name) => analysis.runs.get(name)?.cable);
  return cables.length > 0 && cables.every((cable) => cable?.listed.some((mark) => !POWER_LIMITED.test(mark)) ?? false);
}

const POWER_LIMITED = /^(CL|PLTC|CM|FPL)/i;

function beyondClass({ element, system, ratedVolts = 0, ratedVoltAmperes = 0, sectionOf, present }: ResolvedElement) {
  if (element.kind !== 'winding' || !present) return undefined;
  const volts = system === 'DC' ? limits.class2VoltsDirect : limits.class2Volts;
  if (ratedVolts > volts + 1e-9) return `${labelVolts(ratedVolts)}, above the ${labelVolts(volts)} of that class`;
  const power = sectionOf?.voltAmperes ?? ratedVoltAmperes;
  const most = limits.class2VoltAmperes;
  return power > most + 1e-9 ? `${voltAmperes(power)}, above the ${voltAmperes(most)} of that class` : undefined;
}
