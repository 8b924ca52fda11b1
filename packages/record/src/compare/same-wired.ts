/** Pairs of things that are wired alike in every way but their names (colour refinement, Weisfeiler and Leman, 1968). */

import { grouped } from '../grouped.js';
import type { End, Installation, Landing } from '../model.js';
import { compare } from '../resolve/parts.js';
import type { Match, Node, Side } from './match.js';

type Label = number;
const MOST_ROUNDS = 16;

/** `stated`: what is said of both is the same too; `kind`: only what sort of thing they are. */
export function sameWired(alike: 'stated' | 'kind') {
  return (old: Side, now: Side, match: Match): Match => {
    const labels = new Labels();
    const before = refine(
      old,
      labels,
      alike,
      (name) => match.parts.get(name),
      (name) => match.runs.get(name),
    );
    const newNames = new Set(match.parts.values());
    const newRuns = new Set(match.runs.values());
    const own = (names: ReadonlySet<string>) => (name: string) => (names.has(name) ? name : undefined);
    const after = refine(now, labels, alike, own(newNames), own(newRuns));
    for (let round = 0; round < MOST_ROUNDS; round++) {
      const count = before.distinct() + after.distinct();
      before.step();
      after.step();
      if (before.distinct() + after.distinct() === count && round > 0) break;
    }
    return {
      parts: pairs(before.parts(), after.parts()),
      runs: pairs(before.runs(), after.runs()),
    };
  };
}

/** Words to numbers, one table for both records. */
class Labels {
  readonly #known = new Map<string, Label>();

  of(words: string): Label {
    const known = this.#known.get(words);
    if (known !== undefined) return known;
    this.#known.set(words, this.#known.size);
    return this.#known.size - 1;
  }
}

/** Where labels are found alone on both sides they pair; of several alike only the first, and the rest is looked at again. */
function pairs(before: ReadonlyMap<string, Label>, after: ReadonlyMap<string, Label>): ReadonlyMap<string, string> {
  const byLabel = (side: ReadonlyMap<string, Label>) => grouped(side.keys(), (name) => side.get(name)!);
  const found = new Map<string, string>();
  const several: [string, string][] = [];
  const others = byLabel(after);
  for (const [label, names] of byLabel(before)) {
    const there = others.get(label);
    if (!there) continue;
    const pair: [string, string] = [names.sort(compare)[0]!, there.sort(compare)[0]!];
    if (names.length === 1 && there.length === 1) found.set(...pair);
    else several.push(pair);
  }
  if (found.size === 0 && several.length > 0) {
    const key = (pair: readonly [string, string]): string => [...pair].sort(compare).join(' ');
    several.sort((one, other) => compare(key(one), key(other)));
    found.set(...several[0]!);
  }
  return found;
}

interface Refining {
  step(): void;
  distinct(): number;
  parts(): ReadonlyMap<string, Label>;
  runs(): ReadonlyMap<string, Label>;
}

function refine(
  { installation, left }: Side,
  labels: Labels,
  alike: 'stated' | 'kind',
  partIs: (name: string) => string | undefined,
  runIs: (name: string) => string | undefined,
): Refining {
  let parts = new Map<string, Label>(left.parts.map((node) => [node.name, labels.of(saidOf(node, alike))]));
  let runs = new Map<string, Label>(
    left.runs.map(({ name, cableWords, length, loopOhms }) => {
      const said = alike === 'stated' ? JSON.stringify([cableWords, length, loopOhms]) : '';
      return [name, labels.of(`run ${said}`)];
    }),
  );
  const links = linksOf(installation);
  const partLabel = (name: string): string => {
    const matched = partIs(name);
    return matched === undefined ? `#${parts.get(name) ?? '?'}` : `=${matched}`;
  };
  const runLabel = (name: string): string => {
    const matched = runIs(name);
    return matched === undefined ? `#${runs.get(name) ?? '?'}` : `=${matched}`;
  };
  const endLabel = (end: End | undefined): string => (end ? `${partLabel(end.part)}.${end.terminal ?? ''}` : '-');
  return {
    step() {
      const nextParts = new Map<string, Label>();
      for (const [name, label] of parts) {
        const around = (links.get(name) ?? []).map(({ run, words, terminal, other }) =>
          [run === undefined ? '' : runLabel(run), words, terminal ?? '', endLabel(other)].join(' '),
        );
        nextParts.set(name, labels.of(`${label} ${around.sort(compare).join('; ')}`));
      }
      const nextRuns = new Map<string, Label>();
      for (const { name, conductors } of left.runs) {
        const around = conductors.map(({ colour, from, to, spare }) => {
          const ends = spare ? [] : [landingLabel(from), landingLabel(to)].sort(compare);
          return `${colour} ${ends.join(' ')}`;
        });
        nextRuns.set(name, labels.of(`${runs.get(name)} ${around.sort(compare).join('; ')}`));
      }
      parts = nextParts;
      runs = nextRuns;
    },
    distinct: () => new Set([...parts.values(), ...runs.values()]).size,
    // What is wired to nothing is known by what is said of it alone.
    parts: () => new Map([...parts].filter(([name]) => alike === 'stated' || (links.get(name)?.length ?? 0) > 0)),
    runs: () => runs,
  };

  function landingLabel(landing: Landing | undefined): string {
    return landing?.kind === 'on' ? endLabel(landing.end) : (landing?.kind ?? '');
  }
}

function saidOf({ kind, part, splice }: Node, alike: 'stated' | 'kind'): string {
  if (alike === 'kind') return `${kind} ${part?.type ?? ''}`;
  return `${kind} ${JSON.stringify(part ? [part.type, part.facts] : [splice?.holds, splice?.notes])}`;
}

interface Link {
  readonly run?: string;
  readonly words: string;
  readonly terminal: string | undefined;
  readonly other: End | undefined;
}

/** What is landed on each part, with what is at the other end. */
function linksOf({ runs, jumpers, supplies, devices }: Installation): ReadonlyMap<string, readonly Link[]> {
  const links = new Map<string, Link[]>();
  const put = (at: End, link: Omit<Link, 'terminal'>): void => {
    const known = links.get(at.part);
    const whole = { ...link, terminal: at.terminal };
    if (known) known.push(whole);
    else links.set(at.part, [whole]);
  };
  const endOf = (landing: Landing | undefined): End | undefined => (landing?.kind === 'on' ? landing.end : undefined);
  for (const { name, conductors } of runs) {
    for (const { colour, from, to, spare } of conductors) {
      if (spare) continue;
      const [one, other] = [endOf(from), endOf(to)];
      if (one) put(one, { run: name, words: colour, other });
      if (other) put(other, { run: name, words: colour, other: one });
    }
  }
  for (const { kind, from, to } of jumpers) {
    put(from, { words: kind, other: to });
    put(to, { words: kind, other: from });
  }
  for (const { name, lands } of [...supplies, ...devices]) {
    for (const { terminal, on } of lands) {
      put({ part: name, terminal }, { words: 'lead', other: on });
      put(on, { words: 'led', other: { part: name, terminal } });
    }
  }
  return links;
}
