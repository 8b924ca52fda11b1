/** A button both of whose conductors are on one terminal: pressed or not, the loop is closed past it. */

import { type Analysis, type CircuitAnalysis, pointOf } from '../analysis-types.js';
import type { Fix } from '../finding.js';
import { at, type RecordPath } from '../place-in-record.js';
import { studyOf } from './study.js';
import { quote } from './words.js';

export interface MisusedContact {
  readonly part: string;
  readonly crowded: string;
  readonly free: string;
  /** The end to move. */
  readonly path: RecordPath;
  readonly run: string;
  readonly fixes: readonly Fix[];
}

export function misusedContact(analysis: Analysis, circuit: CircuitAnalysis): MisusedContact | undefined {
  const contacts = studyOf(analysis).elementsOf(circuit, 'contact');
  for (const { part, element } of contacts) {
    for (const [crowded, free] of [
      [element.a, element.b],
      [element.b, element.a],
    ] as const) {
      if (analysis.landedOn(pointOf({ part, terminal: free })).length > 0) continue;
      const landed = analysis.landedOn(pointOf({ part, terminal: crowded }));
      if (landed.length < 2) continue;
      const ends = landed.filter((one) => one.kind === 'conductor');
      const wanted = ends.find((one) => one.end === 'to' && one.index > 0) ?? ends.at(-1);
      if (wanted === undefined) continue;
      const { run, index, end, colour } = wanted;
      const fixes: Fix[] = [
        {
          title: `Land ${colour} of ${quote(run)} on ${quote(`${part}.${free}`)}`,
          changes: [{ kind: 'land', run, conductor: index, end, on: { part, terminal: free } }],
        },
      ];
      return { part, crowded, free, run, path: at.conductorEnd(run, index, end), fixes };
    }
  }
  return undefined;
}
