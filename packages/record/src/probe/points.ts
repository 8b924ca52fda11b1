/** Points that a meter can be held to. */

import { type Analysis, pointOf } from '../analysis-types.js';
import { nearestNames } from './nearest.js';

export interface UnknownPoint {
  readonly kind: 'unknown-point';
  readonly point: string;
  /** Known points that may have been meant, nearest first. */
  readonly nearest: readonly string[];
}

/** `undefined` where the point is a terminal or a splice of the record, or something is landed on it. */
export function unknownPoint(analysis: Analysis, point: string): UnknownPoint | undefined {
  const known = knownPoints(analysis);
  return known.has(point) ? undefined : { kind: 'unknown-point', point, nearest: nearestNames(point, known) };
}

function knownPoints(analysis: Analysis): ReadonlySet<string> {
  const { installation, parts, runs, jumpers } = analysis;
  const points = new Set(installation.splices.map(({ name }) => name));
  for (const part of parts.values()) for (const { name } of part.terminals) points.add(`${part.name}.${name}`);
  for (const run of runs.values()) {
    for (const { id, from, to } of run.conductors) {
      if (id !== undefined && from !== undefined && to !== undefined) points.add(pointOf(from)).add(pointOf(to));
    }
  }
  for (const { from, to } of jumpers.values()) points.add(pointOf(from)).add(pointOf(to));
  return points;
}
