/** A part of the record re-analysed with changes: how a mend is proved before it is spoken of. */

import { analyseCluster } from '../analyse/analyse-cluster.js';
import { Beside } from '../analyse/beside.js';
import { solutionsKeptFor } from '../analyse/solutions.js';
import type { Analysis } from '../analysis-types.js';
import type { RecordChange } from '../finding.js';
import type { Installation, Landing } from '../model.js';
import { lineSideOf } from '../line-side/line-side.js';
import { applyChanges } from './apply-changes.js';
import { studyOf } from './study.js';

const memory = new Beside<Analysis, Map<string, Analysis>>();

/**
 * Trials of earlier states of the record, by parts and changes: what they solved of circuits that stayed the same is taken over. In two
 * halves, of which the older is dropped whole: a map that entries are taken out of leaves old tables behind, and these what was in them.
 */
let earlier = new Map<string, Analysis>();
let older: ReadonlyMap<string, Analysis> = new Map();
const KEPT_IN_EACH = 100;

function remember(key: string, trial: Analysis): void {
  if (earlier.size >= KEPT_IN_EACH && !earlier.has(key)) {
    older = earlier;
    earlier = new Map();
  }
  earlier.set(key, trial);
}

/** The analysis of everything that hangs together with the named parts, after the changes. */
export function whatIf(analysis: Analysis, parts: readonly string[], changes: readonly RecordChange[]): Analysis {
  return trial(analysis, parts, JSON.stringify(changes), (around) => applyChanges(around, changes));
}

/** The same with any change of the data; `what` names the change, alike for the same change. */
export function trial(
  analysis: Analysis,
  parts: readonly string[],
  what: string,
  change: (around: Installation) => Installation,
): Analysis {
  const key = JSON.stringify([parts, what]);
  const known = memory.get(analysis)?.get(key);
  if (known !== undefined) return known;
  const around = studyOf(analysis).once(`around ${parts.join(' ')}`, () => restrictedTo(analysis, parts));
  const before = earlier.get(key) ?? older.get(key);
  const changed = analyseCluster(change(around), before && solutionsKeptFor([before]));
  remember(key, changed);
  const kept = memory.get(analysis) ?? new Map<string, Analysis>();
  memory.set(analysis, kept.set(key, changed));
  return changed;
}

/** The record with nothing in it but what hangs together with these parts, runs and jumpers. */
function restrictedTo(analysis: Analysis, parts: readonly string[]): Installation {
  const { installation } = analysis;
  const { topology } = studyOf(analysis);
  const known = new Map<string, readonly string[]>();
  const componentsOf = (name: string): readonly string[] => {
    const terminals = analysis.parts.get(name)?.terminals ?? [];
    const found =
      known.get(name) ?? [name, ...terminals.map((t) => `${name}.${t.name}`)].map((p) => topology.componentOf(p));
    known.set(name, found);
    return found;
  };
  const wanted = new Set([
    ...parts.flatMap(componentsOf),
    ...topology.edges
      .filter(({ run, jumper }) => parts.includes(run ?? '') || parts.includes(jumper ?? ''))
      .map(({ a }) => topology.componentOf(a)),
  ]);
  // A box and what goes into it hang together by place, not by wire: the line side is kept as a whole.
  const lineSide = lineSideOf(analysis);
  if (lineSide !== undefined && parts.some((name) => lineSide.touches(name))) {
    for (const { point } of lineSide.marks) wanted.add(topology.componentOf(point));
  }
  const keepsPart = ({ name }: { readonly name: string }) => componentsOf(name).some((one) => wanted.has(one));
  const keepsLanding = (landing: Landing | undefined) =>
    landing?.kind === 'on' && keepsPart({ name: landing.end.part });
  return {
    ...installation,
    supplies: installation.supplies.filter(keepsPart),
    devices: installation.devices.filter(keepsPart),
    splices: installation.splices.filter(keepsPart),
    runs: installation.runs.filter(({ conductors }) =>
      conductors.some(({ from, to }) => keepsLanding(from) || keepsLanding(to)),
    ),
    jumpers: installation.jumpers.filter(({ from }) => keepsPart({ name: from.part })),
    accepts: [],
  };
}
