import type { Analysis, CircuitAnalysis } from '../analysis-types.js';
import type { Fix } from '../finding.js';
import { misusedContact } from '../judging/misused-contact.js';
import { shortsIn, type Short } from '../judging/shorts.js';
import { eitherStateWords, isRingContact, stateWords } from '../judging/state-words.js';
import { ampsThrough, studyOf } from '../judging/study.js';
import { amps } from '../judging/units.js';
import { jumperWords, listOf, quote } from '../judging/words.js';
import { at, type RecordPath } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const supplyShorted = defineCheck({
  code: 'supply-shorted',
  severity: 'error',
  title: 'A supply is shorted',
  reach: 'cluster',
  forbidsAccepting: true,
  run(analysis, report) {
    for (const circuit of studyOf(analysis).circuits) {
      for (const short of shortsIn(analysis, circuit)) {
        report({
          path: placeOf(analysis, circuit, short),
          message: () => sentence(analysis, circuit, short),
          related: [{ path: at.part(short.supply), message: `${quote(short.supply)} is the supply that is shorted` }],
          parts: [short.supply, ...short.jumpers, ...short.parts, ...short.runs],
          mends: (): readonly Fix[] => [
            ...(short.crowded?.fixes ?? []),
            ...short.jumpers.map((name): Fix => {
              const title = `Take out ${jumperWords(analysis, name)}`;
              return { title, changes: [{ kind: 'remove-jumper', jumper: name }] };
            }),
            ...(misusedContact(analysis, circuit)?.fixes ?? []),
          ],
        });
      }
    }
  },
});

/** The end, jumper or diode that closes the path, the end that is on the wrong terminal, the button, or the supply. */
function placeOf(analysis: Analysis, circuit: CircuitAnalysis, short: Short): RecordPath {
  if (short.crowded !== undefined) return short.crowded.path;
  const [diode] = short.diodes;
  if (diode !== undefined) return at.part(diode);
  const [jumper] = short.jumpers;
  if (jumper !== undefined) return at.jumper(jumper);
  const misused = misusedContact(analysis, circuit);
  if (misused !== undefined && short.atRest) return misused.path;
  const [button] = short.contacts;
  if (button !== undefined) return at.part(button);
  const [run] = short.runs;
  return run === undefined ? at.part(short.supply) : at.run(run);
}

function sentence(analysis: Analysis, circuit: CircuitAnalysis, short: Short): string {
  const when = short.atRest ? stateWords(analysis, []) : eitherStateWords(analysis, short.states);
  const current = shortCurrent(circuit, short);
  const path = wayWords(analysis, short);
  const through =
    path.length === 0 ? 'its own terminals are joined' : `${listOf(path)} alone ${joins(path)} its terminals`;
  const rated = analysis.elements.get(short.winding)?.ratedAmps;
  const against = rated === undefined ? '' : ` (rated: ${amps(rated)})`;
  const flows = current === undefined ? '' : `, and about ${amps(current)} flows${against}`;
  return `${quote(short.supply)} is shorted ${when}: ${through}${flows}. ${mendWords(analysis, short)}`;
}

/** What is on the way, the likeliest cause first. Of many jumpers that stand for wire the number is enough. */
function wayWords(analysis: Analysis, { jumpers, bridges, diodes, contacts, runs, states }: Short): readonly string[] {
  const counted = !bridges && jumpers.length > 1 ? [`${jumpers.length} jumpers`] : undefined;
  return [
    ...diodes.map(quote),
    ...(bridges ? jumpers.map((name) => jumperWords(analysis, name)) : []),
    // In several states it is one contact or another.
    ...(states.length > 1 ? [] : contacts.map(quote)),
    ...runs.map(quote),
    ...(bridges ? [] : (counted ?? jumpers.map((name) => jumperWords(analysis, name)))),
  ];
}

function joins(path: readonly string[]): string {
  return path.length === 1 && !/^\d/.test(path[0]!) ? 'joins' : 'join';
}

function mendWords(analysis: Analysis, short: Short): string {
  const { jumpers, bridges, diodes, contacts, crowded } = short;
  if (crowded !== undefined) {
    const where = crowded.free === undefined ? 'where it belongs' : `on ${quote(crowded.free)}`;
    return `With the supply isolated, land one conductor of ${quote(crowded.run)} ${where}: both are on ${quote(crowded.point)}.`;
  }
  const [diode] = diodes;
  if (diode !== undefined) {
    return analysis.elements.get(short.winding)?.system === 'DC'
      ? `With the supply isolated, turn ${quote(diode)} round: the end with the stripe belongs on the plus side.`
      : `With the supply isolated, take ${quote(diode)} out: across AC a diode is a short in every other half of the cycle.`;
  }
  const ringing = contacts.find((part) => ringsByItself(analysis, part));
  const takeOut = listOf(jumpers.map((name) => jumperWords(analysis, name)));
  if (ringing !== undefined) {
    const other = bridges ? `take out ${takeOut}` : 'lead its conductors through the chime that it is to ring';
    return `Set ${quote(ringing)} to ring nothing (\`ring none\`), or ${other}.`;
  }
  if (!bridges) return 'Isolate the supply and prove it dead: an end on that way is on the wrong terminal.';
  const why = short.atRest
    ? 'it joins the two sides of the supply'
    : 'no bypass belongs where a plain button closes the loop';
  return `Take out ${takeOut}: ${why}.`;
}

/** Whether a part rings a chime by shorting its own screws. */
function ringsByItself(analysis: Analysis, part: string): boolean {
  return analysis.parts.get(part)?.elements.some((element) => isRingContact(analysis, element)) ?? false;
}

function shortCurrent(circuit: CircuitAnalysis, short: Short): number | undefined {
  if (circuit.unmeasuredRuns.length > 0) return undefined;
  const solved = circuit.at('nominal', short.states[0] ?? [], 'idle');
  return solved === undefined ? undefined : ampsThrough(solved, short.winding);
}
