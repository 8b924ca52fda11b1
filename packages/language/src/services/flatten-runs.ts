/** Runs that go along with a part to another place, in the text of the record that a plan changes. */

import type { Installation } from '@ohmstead/record';
import type { Replace, Run, Statement } from '../generated/ast.js';
import { type Stretch, stretchOf } from '../lower/sites.js';
import type { WiringDocument } from '../reading/document.js';

export interface RunEdit {
  /** The run, as the record names it. */
  readonly name: string;
  readonly stretch: Stretch;
  readonly text: string;
}

/** They end where the parts are now, and how long they have to be is an estimate until somebody measures. */
export function runsLedAlong(
  base: WiringDocument,
  plan: WiringDocument,
  before: Installation,
  after: Installation,
): readonly RunEdit[] {
  const replaced = new Map(plan.file.statements.filter(isReplacedRun).map((one) => [one.name, one]));
  const runs = new Map(base.file.statements.filter(isRun).map((run) => [run.name, run]));
  return before.runs.flatMap((was): readonly RunEdit[] => {
    const is = after.runs.find(({ name }) => name === (replaced.get(was.name)?.newName ?? was.name));
    const node = runs.get(was.name);
    if (!is || !node || (is.fromPlace === was.fromPlace && is.toPlace === was.toPlace)) return [];
    const edits: RunEdit[] = [];
    const put = (stretch: Stretch, text: string) => edits.push({ name: was.name, stretch, text });
    for (const extent of node.extents) {
      if (extent.$type !== 'RunPlaces') continue;
      const at = (property: string): Stretch => stretchOf({ document: base, node: extent, property });
      if (is.fromPlace !== undefined && is.fromPlace !== was.fromPlace) put(at('from'), is.fromPlace);
      if (is.toPlace !== undefined && is.toPlace !== was.toPlace) put(at('to'), is.toPlace);
    }
    const [old, now] = [was.loopOhms ?? was.length, is.loopOhms ?? is.length];
    const stated = [...node.extents, ...node.facts].find((one) => one.$type === 'RunLength' || one.$type === 'Loop');
    if (stated && now?.about === true && old?.about !== true) {
      const { offset } = stretchOf({ document: base, node: stated.figure });
      put({ offset, end: offset }, 'about ');
    }
    return edits;
  });
}

function isRun(statement: Statement): statement is Run {
  return statement.$type === 'Run';
}

function isReplacedRun(statement: Statement): statement is Replace {
  return statement.$type === 'Replace' && statement.kind.toLowerCase() === 'run';
}
