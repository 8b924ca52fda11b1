import type { Analysis, ResolvedElement, ResolvedPart } from '../analysis-types.js';
import { amps, labelVolts, voltAmperes } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { bellTransformerScope, class2Row, classOf, type Limiting } from '../regions/power-limited.js';
import { defineCheck } from './types.js';

export const class2Exceeded = defineCheck({
  code: 'class2-exceeded',
  severity: 'warning',
  title: 'A supply is beyond the power-limited class',
  reach: 'cluster',
  run(analysis, report) {
    const { profile } = analysis.installation;
    const american = bellTransformerScope(profile) === undefined;
    for (const part of analysis.parts.values()) {
      if (analysis.installation.broken.has(part.name)) continue;
      const beyond = part.elements.flatMap(
        (element) => (american ? beyondClass(part, element) : beyondBellTransformer(part, element, profile)) ?? [],
      )[0];
      if (beyond === undefined || isInOtherCable(analysis, part.name)) continue;
      report({
        path: part.stated.has('output') ? at.fact(part.name, 'output') : at.part(part.name),
        message: `${quote(part.name)} gives ${beyond}: bell wire and the way it is run assume ${american ? 'a Class 2 supply' : 'such a one'}. Beyond it the wiring methods of power circuits apply; local code and a licensed electrician decide.`,
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

/** "16 V, 150 VA, above the 85 VA of Class 2 at 17 V". By label and open volts, never by a computed fault current. */
function beyondClass(part: ResolvedPart, element: ResolvedElement): string | undefined {
  const { system = 'AC', ratedVolts = 0 } = element;
  if (element.element.kind !== 'winding' || !element.present || ratedVolts <= 0) return undefined;
  const power = element.sectionOf?.voltAmperes ?? element.ratedVoltAmperes ?? 0;
  const volts = greatestVolts(element);
  const limiting = limitingOf(part);
  if (classOf(volts, power, system, limiting) === 2) return undefined;
  const row = class2Row(volts, system, limiting);
  const most = system === 'DC' ? 60 : 30;
  if (row === undefined || volts > most + 1e-9) return `${labelVolts(volts)}, above the ${labelVolts(most)} of Class 2`;
  const fuse =
    row.overcurrent === undefined ? '' : `, with an overcurrent device of at most ${amps(row.overcurrent(volts))}`;
  return `${voltAmperes(power)}, above the ${voltAmperes(row.nameplate(volts))} of Class 2 at ${labelVolts(volts)}${fuse}`;
}

/** At any load: with nothing connected it gives most. One that nobody stated or measured is not held against it. */
function greatestVolts({ ratedVolts = 0, noLoadVolts = 0, assumed, sectionOf }: ResolvedElement): number {
  const isKnown = sectionOf === undefined && !assumed.some(({ what }) => what === 'no-load');
  return isKnown ? Math.max(ratedVolts, noLoadVolts) : ratedVolts;
}

/** A label says where an overcurrent device does the limiting. */
function limitingOf({ facts }: ResolvedPart): Limiting {
  const words = [...facts.labels, ...(facts.listed ?? [])].join(' ');
  return /not inherently limited/i.test(words) ? 'by-overcurrent-device' : 'inherently';
}

/** Where there is no such class: beyond what a bell transformer may be. */
function beyondBellTransformer(part: ResolvedPart, element: ResolvedElement, profile: string): string | undefined {
  const scope = bellTransformerScope(profile);
  const { system = 'AC', ratedVolts = 0, ratedVoltAmperes = 0, sectionOf } = element;
  const isTransformer = part.elements.some((one) => one.element.kind === 'primary');
  if (scope === undefined || element.element.kind !== 'winding' || !element.present || !isTransformer) return undefined;
  const power = sectionOf?.voltAmperes ?? ratedVoltAmperes;
  const { source } = scope;
  if (ratedVolts > scope.volts[system] + 1e-9)
    return `${labelVolts(ratedVolts)}, above the ${labelVolts(scope.volts[system])} of a bell transformer (${source})`;
  if (greatestVolts(element) > scope.openVolts[system] + 1e-9)
    return `${labelVolts(greatestVolts(element))} with nothing connected, above the ${labelVolts(scope.openVolts[system])} of a bell transformer (${source})`;
  return power > scope.voltAmperes + 1e-9
    ? `${voltAmperes(power)}, above the ${voltAmperes(scope.voltAmperes)} of a bell transformer (${source})`
    : undefined;
}
