import type { Analysis, CircuitAnalysis, ResolvedElement } from '../analysis-types.js';
import { takesPower } from '../judging/state-words.js';
import { ampsThrough, extreme, studyOf } from '../judging/study.js';
import { amps } from '../judging/units.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const litPushOnElectronicChime = defineCheck({
  code: 'lit-push-on-electronic-chime',
  severity: 'warning',
  title: "A push's lamp may trigger an electronic chime",
  reach: 'cluster',
  run(analysis, report) {
    const study = studyOf(analysis);
    for (const circuit of study.circuits) {
      const told = new Set<string>();
      for (const lamp of study.elementsOf(circuit, 'lamp', 'resistor')) {
        const contact = contactBeside(analysis, lamp);
        if (contact === undefined || told.has(lamp.part)) continue;
        const load = study
          .elementsOf(circuit, 'load')
          .find(
            (one) => !study.isFullyFed(one, []) && study.isFullyFed(one, [contact]) && !hasContact(analysis, one.part),
          );
        if (load === undefined) continue;
        told.add(lamp.part);
        const carried = currentAtRest(analysis, circuit, lamp);
        const figure = carried === undefined ? '' : ` (about ${amps(carried)})`;
        report({
          path: at.part(lamp.part),
          message: `${quote(lamp.part)} has a lamp across its contact, and what lights it${figure} goes through ${quote(load.part)} at rest: an electronic chime may play by itself or stay silent. Take a push without a lamp, or the resistor that the chime's maker names.`,
          related: [{ path: at.part(load.part), message: `${quote(load.part)} is electronic` }],
          parts: [lamp.part, load.part],
        });
      }
    }
  },
});

/** The contact between the same two terminals of a part that takes no power itself. */
function contactBeside(analysis: Analysis, { part, a, b }: ResolvedElement): string | undefined {
  if (takesPower(analysis, part)) return undefined;
  const own = analysis.parts.get(part)?.elements ?? [];
  const beside = own.find(
    (one) => one.element.kind === 'contact' && [one.a, one.b].sort().join() === [a, b].sort().join(),
  );
  return beside?.contact;
}

function hasContact(analysis: Analysis, part: string): boolean {
  return analysis.parts.get(part)?.elements.some(({ element }) => element.kind === 'contact') ?? false;
}

function currentAtRest(analysis: Analysis, circuit: CircuitAnalysis, lamp: ResolvedElement): number | undefined {
  const study = studyOf(analysis);
  if (!study.measured.includes(circuit)) return undefined;
  const atRest = study.figures(circuit, 'nominal').filter(({ state }) => state.closed.length === 0);
  const most = extreme(atRest, (solved) => ampsThrough(solved, lamp.id), 'most')?.figure;
  return most === undefined || most < 0.001 ? undefined : most;
}
