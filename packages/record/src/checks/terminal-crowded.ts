import { type Analysis, type Landed, pointOf } from '../analysis-types.js';
import { quote } from '../judging/words.js';
import { at, type RecordPath } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const terminalCrowded = defineCheck({
  code: 'terminal-crowded',
  severity: 'warning',
  title: 'More conductors than a terminal or splice is stated to hold',
  reach: 'cluster',
  run(analysis, report) {
    for (const { point, part, most } of stated(analysis)) {
      const landed = analysis.landedOn(point);
      if (landed.length <= most) continue;
      report({
        path: placeOf(landed[most]!, part),
        message: `${quote(point)} holds ${most} and has ${landed.length} on it: ${moved(point === part, landed.length - most + 1)}.`,
        related: [{ path: at.part(part), message: `holds ${most}` }],
        parts: [part],
      });
    }
  },
});

/** The pigtail to what they are moved into takes a place itself. */
function moved(isSplice: boolean, count: number): string {
  return `join ${count} of them in ${isSplice ? 'another splice' : 'a splice'}, with a pigtail to it`;
}

function stated(analysis: Analysis): { readonly point: string; readonly part: string; readonly most: number }[] {
  const terminals = [...analysis.parts.values()].flatMap((part) =>
    part.terminals.flatMap(({ name, holds }) =>
      holds === undefined
        ? []
        : [{ point: pointOf({ part: part.name, terminal: name }), part: part.name, most: holds }],
    ),
  );
  const splices = analysis.installation.splices.flatMap(({ name, holds }) =>
    holds === undefined ? [] : [{ point: name, part: name, most: holds.most }],
  );
  return [...terminals, ...splices];
}

function placeOf(landed: Landed, part: string): RecordPath {
  switch (landed.kind) {
    case 'conductor':
      return at.conductorEnd(landed.run, landed.index, landed.end);
    case 'jumper':
      return at.jumperEnd(landed.jumper, landed.end);
    case 'lead':
      return at.part(part);
  }
}
