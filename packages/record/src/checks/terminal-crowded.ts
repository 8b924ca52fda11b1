import { type Analysis, type Landed, pointOf } from '../analysis-types.js';
import { quote } from '../judging/words.js';
import { at, type RecordPath } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const terminalCrowded = defineCheck({
  code: 'terminal-crowded',
  severity: 'warning',
  title: 'More conductors than a terminal or splice is stated to hold',
  run(analysis, report) {
    for (const { point, part, most } of stated(analysis)) {
      const landed = analysis.landedOn(point);
      if (landed.length <= most) continue;
      report({
        path: placeOf(landed[most]!, part),
        message: `${quote(point)} holds ${most} and has ${landed.length} on it: ${landed.length - most === 1 ? 'one belongs' : `${landed.length - most} belong`} in a splice with a pigtail to it.`,
        related: [{ path: at.part(part), message: `holds ${most}` }],
        parts: [part],
      });
    }
  },
});

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
