import type { Analysis, CircuitAnalysis } from '../analysis-types.js';
import { pastElectronicChime } from '../judging/bypassing.js';
import { feedingOf, type Unfed } from '../judging/feeding.js';
import { missingConductors } from '../judging/missing-conductor.js';
import { starvedIn } from '../judging/starved.js';
import { studyOf } from '../judging/study.js';
import { quote, quotedList } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const neverFed = defineCheck({
  code: 'never-fed',
  severity: 'error',
  title: 'A part that needs power has no complete loop',
  reach: 'cluster',
  run(analysis, report) {
    for (const unfed of feedingOf(analysis).unfed) {
      const { parts, open, splices, sameSide } = unfed;
      const place = sameSide?.part ?? open?.part ?? parts[0]!;
      report({
        path: sameSide?.path ?? at.part(place),
        message: sentence(unfed),
        related: [
          ...parts
            .filter((name) => name !== place)
            .map((name) => ({ path: at.part(name), message: `${quote(name)} gets nothing` })),
          ...splices.map((name) => ({ path: at.part(name), message: `${quote(name)} holds a single conductor` })),
        ],
        parts: [...new Set([...parts, place, ...splices, ...(sameSide === undefined ? [] : [sameSide.run])])],
        mends: () => (sameSide === undefined ? missingConductors(analysis, parts) : []),
      });
    }
    for (const circuit of studyOf(analysis).measured) {
      for (const { part, through } of starvedIn(analysis, circuit)) {
        report({
          path: at.part(part),
          message: `${quote(part)} gets no volts, whatever is pressed: ${starvedWords(analysis, circuit, part, through)}`,
          related: through.map((name) => ({ path: at.part(name), message: `${quote(name)} is in its way` })),
          parts: [part, ...through],
        });
      }
    }
  },
});

function starvedWords(analysis: Analysis, circuit: CircuitAnalysis, part: string, through: readonly string[]): string {
  const wrong = 'A conductor is on the wrong terminal.';
  if (through.length === 0) return `the supplies in its loop work against one another. ${wrong}`;
  const loads = studyOf(analysis).elementsOf(
    circuit,
    'load',
    'coil',
    'lamp',
    'resistor',
    'impedance',
    'bypass',
    'diode',
  );
  const inTheWay = loads.filter((one) => through.includes(one.part));
  const chime = through.includes(part) ? undefined : pastElectronicChime(analysis, inTheWay);
  if (chime !== undefined) return `its current has to pass through ${chime}`;
  return `its current has to pass through ${quotedList(through)} as well, which leaves it none. ${wrong}`;
}

function sentence({ parts, open, splices, hasSupply, joinedPast, sameSide, onlyPressed }: Unfed): string {
  const has = parts.length === 1 ? 'has' : 'have';
  if (joinedPast) {
    const ends = parts.length === 1 ? 'both of its ends are' : 'both ends of each are';
    return `${quotedList(parts)} ${has} no volts, whatever is pressed: ${ends} on the same side of the supply. A conductor is on the wrong terminal.`;
  }
  if (onlyPressed) {
    return `${quotedList(parts)} ${has} a loop to a supply only while something else is pressed: a conductor of ${parts.length === 1 ? 'it' : 'them'} is on the wrong splice or terminal.`;
  }
  const head = `${quotedList(parts)} ${has} no complete loop to a supply, whatever is pressed`;
  const single =
    splices.length === 0
      ? ''
      : `, and ${quotedList(splices)} ${splices.length === 1 ? 'holds' : 'hold'} a single conductor`;
  if (!hasSupply) return `${head}: no supply is joined to ${parts.length === 1 ? 'it' : 'them'}.`;
  if (sameSide !== undefined) {
    return `${head}: both conductors of ${quote(sameSide.part)} come from ${quote(sameSide.point)}${single}.`;
  }
  if (open !== undefined) return `${head}: nothing is landed on ${quote(`${open.part}.${open.terminal}`)}${single}.`;
  if (splices.length > 0)
    return `${head}: ${quotedList(splices)} ${splices.length === 1 ? 'holds' : 'hold'} a single conductor.`;
  return `${head}: ${parts.length === 1 ? 'both of its ends come' : 'both ends of each come'} back to the same side of the supply.`;
}
