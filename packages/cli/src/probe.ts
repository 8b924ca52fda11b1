import { formatOhms, formatVolts } from '@ohmstead/circuit';
import { type OhmsRow, probe, type ProbeProblem, type VoltsRow } from '@ohmstead/record';
import { stateLabel } from '@ohmstead/views';
import type { ExitStatus } from './main.js';
import { openRecord } from './open.js';
import { complain, type Surroundings } from './surroundings.js';

/** Prints what a meter should show between two points. */
export function probePoints(
  here: Surroundings,
  file: string,
  from: string,
  to: string,
  options: { readonly format: 'text' | 'json'; readonly ohms?: boolean },
): ExitStatus {
  const opened = openRecord(here, file);
  if (!opened) return 2;
  const { analysis } = opened.record;
  const found = options.ohms ? probe(analysis, from, to, { ohms: true }) : probe(analysis, from, to);
  if ('kind' in found) {
    complain(here, unknownPoint(found));
    return 2;
  }
  if (options.format === 'json') here.out(`${JSON.stringify(found, null, 2)}\n`);
  else {
    const rows = found.solved.map((row) => ('ohms' in row ? ohmsLine(row) : voltsLine(row)));
    here.out(probeText(from, to, options.ohms === true, rows));
  }
  return 0;
}

function unknownPoint({ point, nearest }: ProbeProblem): string {
  const meant = nearest.length > 0 ? ` Did you mean ${nearest.map((name) => `\`${name}\``).join(' or ')}?` : '';
  return `\`${point}\` is no terminal or splice of this record.${meant}`;
}

function probeText(from: string, to: string, ohms: boolean, rows: readonly (readonly [string, string])[]): string {
  const width = Math.max(...rows.map(([state]) => state.length));
  const head = ohms
    ? `${from} to ${to}, supplies isolated and proved dead:`
    : `${from} to ${to}, computed at nominal mains:`;
  return `${[head, ...rows.map(([state, reading]) => `  ${state.padEnd(width)}  ${reading}`)].join('\n')}\n`;
}

function voltsLine(row: VoltsRow): readonly [string, string] {
  const label = stateLabel(row);
  if (row.floating) return [label, 'nothing to read: one of the points hangs free of the other'];
  if (row.volts === null) return [label, `no figure: ${row.reason ?? 'this circuit could not be solved'}`];
  return [label, formatVolts(row.volts)];
}

function ohmsLine(row: OhmsRow): readonly [string, string] {
  const label = stateLabel({ closed: row.closed, loads: 'idle' });
  if (row.tells === 'open') return [label, 'open'];
  if (row.ohms === null) return [label, 'some ohms: part of the path has no stated DC resistance'];
  return [label, formatOhms(row.ohms)];
}
