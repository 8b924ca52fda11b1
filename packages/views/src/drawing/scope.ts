/** Which of a record is drawn: all of it, or one circuit where it is too much for one sheet. */

import { type Analysis, type CircuitAnalysis, pointOf } from '@ohmstead/record';
import { listed } from '../words.js';

/** More parts and splices than this are drawn circuit by circuit. */
export const MOST_PARTS = 80;

export interface Scope {
  readonly circuit: CircuitAnalysis | undefined;
  /** "circuit 1 of 9", or empty where everything is drawn. */
  readonly words: string;
  /** The circuits that can be drawn by themselves, each by the name of a part of it; empty where there is but one. */
  readonly circuits: readonly CircuitChoice[];
  /** Which of them is drawn; empty for all. */
  readonly drawn: string;
  /** Whether all of them fit on one sheet. */
  readonly fits: boolean;
  hasPart(name: string): boolean;
  hasPoint(point: string): boolean;
}

export interface CircuitChoice {
  readonly of: string;
  readonly words: string;
}

/**
 * `wanted` is a part's, run's or splice's name; without one the whole record, or where there is too much of it the circuit of
 * what is `near`, else the first.
 */
export function scopeOf(analysis: Analysis, wanted: string | undefined, near?: string): Scope {
  const { installation, parts } = analysis;
  const worth = analysis.circuits.filter(({ supplies, devices }) => supplies.length + devices.length > 0);
  const small = parts.size + installation.splices.length <= MOST_PARTS;
  const sought = wanted ?? (small ? undefined : near);
  const chosen = sought === undefined ? undefined : worth.find((circuit) => isIn(circuit, sought));
  const circuit = chosen ?? (small || wanted !== undefined ? undefined : worth[0]);
  const several = worth.length > 1;
  const circuits = several ? worth.map(choiceOf) : [];
  if (circuit === undefined) {
    return { circuit, words: '', circuits, drawn: '', fits: small, hasPart: () => true, hasPoint: () => true };
  }
  const points = new Set(circuit.circuit.points);
  const names = new Set([
    ...circuit.supplies,
    ...circuit.devices,
    ...[...points].filter((point) => !point.includes('.')),
  ]);
  return {
    circuit,
    words: several ? `circuit ${worth.indexOf(circuit) + 1} of ${worth.length}` : '',
    circuits,
    drawn: choiceOf(circuit).of,
    fits: small,
    hasPart: (name) => names.has(name),
    hasPoint: (point) => points.has(point),
  };
}

function choiceOf({ supplies, devices }: CircuitAnalysis): CircuitChoice {
  const of = devices[0] ?? supplies[0] ?? '';
  return { of, words: supplies.length > 0 ? `${listed(supplies)}: ${listed(devices)}` : listed(devices) };
}

function isIn({ circuit, supplies, devices, runs }: CircuitAnalysis, name: string): boolean {
  return [...supplies, ...devices, ...runs].includes(name) || circuit.points.includes(name);
}

export interface Wire {
  readonly id: string;
  readonly kind: 'conductor' | 'jumper' | 'lead';
  readonly of: string;
  readonly colour?: string;
  readonly from: string;
  readonly to: string;
}

/** All that joins points of the drawing, in the record's order. */
export function wiresOf(analysis: Analysis, scope: Scope): Wire[] {
  const { installation, runs, jumpers } = analysis;
  const points = new Set([
    ...[...analysis.parts.values()].flatMap(({ name, terminals }) => terminals.map((each) => `${name}.${each.name}`)),
    ...installation.splices.map(({ name }) => name),
  ]);
  const conductors = installation.runs.flatMap(({ name }) =>
    (runs.get(name)?.conductors ?? []).flatMap(({ id, colour, from, to }): Wire[] =>
      id === undefined || from === undefined || to === undefined
        ? []
        : [{ id, kind: 'conductor', of: name, colour, from: pointOf(from), to: pointOf(to) }],
    ),
  );
  const links = [...jumpers.values()].map(
    ({ name, from, to }): Wire => ({
      id: `jumper/${name}`,
      kind: 'jumper',
      of: name,
      from: pointOf(from),
      to: pointOf(to),
    }),
  );
  const leads = [...installation.supplies, ...installation.devices].flatMap((part) =>
    part.lands.map(
      ({ terminal, on }, index): Wire => ({
        id: `lead/${part.name}/${index}`,
        kind: 'lead',
        of: part.name,
        from: `${part.name}.${terminal}`,
        to: pointOf(on),
      }),
    ),
  );
  const all = new Map([...conductors, ...links, ...leads].map((wire) => [wire.id, wire]));
  return [...all.values()].filter(
    ({ from, to }) => points.has(from) && points.has(to) && scope.hasPoint(from) && scope.hasPoint(to),
  );
}
