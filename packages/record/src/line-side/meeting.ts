/** Where line voltage and low voltage are joined: the one conductor, jumper or lead without which they would be apart. */

import { type Analysis, pointOf } from '../analysis-types.js';
import { Nets } from '../judging/topology.js';
import { at, type RecordPath } from '../place-in-record.js';
import type { LineSide } from './line-side.js';

export interface Meeting {
  readonly path: RecordPath;
  /** The run or jumper, or the part whose lead it is. */
  readonly owner: string;
  /** Its two points. */
  readonly a: string;
  readonly b: string;
}

interface Joint extends Meeting {
  readonly inside: boolean;
}

/** Undefined where more than one thing joins them. */
export function meetingOn(
  analysis: Analysis,
  lineSide: LineSide,
  net: string,
  lowVoltage: readonly string[],
): Meeting | undefined {
  const joints = jointsOn(analysis, lineSide, net);
  const live = lineSide.marksOn(net).map(({ point }) => point);
  return joints.find((one) => {
    if (one.inside) return false;
    const without = new Nets(joints.filter((other) => other !== one));
    return !live.some((mark) => lowVoltage.some((point) => without.same(mark, point)));
  });
}

function jointsOn(analysis: Analysis, lineSide: LineSide, net: string): readonly Joint[] {
  const joints: Joint[] = [];
  const put = (path: RecordPath, owner: string, a: string, b: string, inside = false): void => {
    if (lineSide.netOf(a) === net) joints.push({ path, owner, a, b, inside });
  };
  for (const { run, conductors } of analysis.runs.values()) {
    for (const { index, from, to } of conductors) {
      if (from && to) put(at.conductor(run.name, index), run.name, pointOf(from), pointOf(to));
    }
  }
  for (const { name, from, to } of analysis.jumpers.values()) put(at.jumper(name), name, pointOf(from), pointOf(to));
  for (const { name, lands } of [...analysis.installation.supplies, ...analysis.installation.devices]) {
    for (const [index, { terminal, on }] of lands.entries()) {
      put(at.lands(name, index), name, pointOf({ part: name, terminal }), pointOf(on));
    }
  }
  for (const part of analysis.parts.values()) {
    for (const { element, a, b, present } of part.elements) {
      const joins = present && (element.kind === 'link' || element.kind === 'contact');
      if (joins) put(at.part(part.name), part.name, a, b, true);
    }
  }
  return joints;
}
