/** What of one record is what in another: by name, then by what it is wired to. */

import { pointOf } from '../analysis-types.js';
import type { Installation, Landing, Part, Run, Splice } from '../model.js';
import { compare } from '../resolve/parts.js';
import { likeliest } from './likeliest.js';
import { sameWired } from './same-wired.js';

/** Names of the old record to names of the new one. */
export interface Match {
  readonly parts: ReadonlyMap<string, string>;
  readonly runs: ReadonlyMap<string, string>;
}

interface Unmatched {
  readonly parts: readonly Node[];
  readonly runs: readonly Run[];
}

/** A part or splice that has not found its like yet. */
export interface Node {
  readonly name: string;
  readonly kind: 'supply' | 'device' | 'splice';
  readonly part?: Part;
  readonly splice?: Splice;
}

export interface Side {
  readonly installation: Installation;
  readonly left: Unmatched;
}

/** The same pairs whichever of the two is called the old one. */
export function matchRecords(before: Installation, after: Installation): Match {
  const parts = new Map<string, string>();
  const runs = new Map<string, string>();
  const oldNodes = nodesOf(before);
  const newNodes = nodesOf(after);
  for (const [name, node] of oldNodes) if (newNodes.get(name)?.kind === node.kind) parts.set(name, name);
  const oldRuns = runsOf(before);
  const newRuns = runsOf(after);
  for (const name of oldRuns.keys()) if (newRuns.has(name)) runs.set(name, name);

  const unmatched = (): { old: Side; now: Side } => {
    const taken = new Set(parts.values());
    const takenRuns = new Set(runs.values());
    return {
      old: side(
        before,
        oldNodes,
        oldRuns,
        (name) => parts.has(name),
        (name) => runs.has(name),
      ),
      now: side(
        after,
        newNodes,
        newRuns,
        (name) => taken.has(name),
        (name) => takenRuns.has(name),
      ),
    };
  };
  for (const find of [sameWired('stated'), sameWired('kind'), likeliest]) {
    for (;;) {
      const { old, now } = unmatched();
      if (isDone(old.left) || isDone(now.left)) break;
      const found = find(old, now, { parts, runs });
      if (found.parts.size === 0 && found.runs.size === 0) break;
      for (const [one, other] of found.parts) parts.set(one, other);
      for (const [one, other] of found.runs) runs.set(one, other);
    }
  }
  return { parts, runs };
}

function isDone({ parts, runs }: Unmatched): boolean {
  return parts.length === 0 && runs.length === 0;
}

function side(
  installation: Installation,
  nodes: ReadonlyMap<string, Node>,
  runs: ReadonlyMap<string, Run>,
  hasPart: (name: string) => boolean,
  hasRun: (name: string) => boolean,
): Side {
  return {
    installation,
    left: {
      parts: [...nodes.values()].filter(({ name }) => !hasPart(name)).sort(byName),
      runs: [...runs.values()].filter(({ name }) => !hasRun(name)).sort(byName),
    },
  };
}

function byName(one: { readonly name: string }, other: { readonly name: string }): number {
  return compare(one.name, other.name);
}

function nodesOf({ supplies, devices, splices }: Installation): ReadonlyMap<string, Node> {
  const nodes = new Map<string, Node>();
  for (const part of [...supplies, ...devices]) {
    if (!nodes.has(part.name)) nodes.set(part.name, { name: part.name, kind: part.kind, part });
  }
  for (const splice of splices) {
    if (!nodes.has(splice.name)) nodes.set(splice.name, { name: splice.name, kind: 'splice', splice });
  }
  return nodes;
}

function runsOf({ runs }: Installation): ReadonlyMap<string, Run> {
  const byName = new Map<string, Run>();
  for (const run of runs) if (!byName.has(run.name)) byName.set(run.name, run);
  return byName;
}

/** A point with its part under another name. */
export function pointAs(landing: Landing | undefined, nameOf: (part: string) => string): string {
  if (landing === undefined) return '';
  if (landing.kind !== 'on') return landing.kind;
  return pointOf({ ...landing.end, part: nameOf(landing.end.part) });
}
