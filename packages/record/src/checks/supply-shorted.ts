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

/** The jumper that closes the path, the end that is on the wrong terminal, the button, or the supply. */
function placeOf(analysis: Analysis, circuit: CircuitAnalysis, short: Short): RecordPath {
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
  const path = [
    ...short.jumpers.map((name) => jumperWords(analysis, name)),
    ...[...short.contacts, ...short.runs].map(quote),
  ];
  const through =
    path.length === 0 ? 'its own terminals are joined' : `${listOf(path)} alone ${joins(path)} its terminals`;
  const rated = analysis.elements.get(short.winding)?.ratedAmps;
  const against = rated === undefined ? '' : ` (rated: ${amps(rated)})`;
  const flows = current === undefined ? '' : `, and about ${amps(current)} flows${against}`;
  return `${quote(short.supply)} is shorted ${when}: ${through}${flows}. ${mendWords(analysis, short)}`;
}

function joins(path: readonly string[]): string {
  return path.length === 1 ? 'joins' : 'join';
}

function mendWords(analysis: Analysis, { jumpers, contacts }: Short): string {
  if (jumpers.length === 0) return 'Isolate the supply and prove it dead before touching the ends.';
  const ringing = contacts.find((part) => ringsByItself(analysis, part));
  if (ringing !== undefined) {
    return `Set ${quote(ringing)} to ring nothing (\`ring none\`), or take out ${listOf(jumpers.map((name) => jumperWords(analysis, name)))}.`;
  }
  return `Take out ${listOf(jumpers.map((name) => jumperWords(analysis, name)))}: no bypass belongs where a plain button closes the loop.`;
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
