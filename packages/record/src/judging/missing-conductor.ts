/** Conductors that may have been left out of a record: between what stands empty, in a cable that has one to spare. */

import { type Analysis, pointOf, type ResolvedPart, type ResolvedRun } from '../analysis-types.js';
import type { Fix, RecordChange } from '../finding.js';
import type { End } from '../model.js';
import { isEmpty } from './feeding.js';
import { studyOf } from './study.js';
import { quote } from './words.js';

const MOST_TRIED = 12;

/** Guesses, the likeliest first, for what hangs together with the parts; each is proved before it is offered. */
export function missingConductors(analysis: Analysis, parts: readonly string[]): readonly Fix[] {
  const near = namesAround(analysis, parts);
  const open = openEnds(analysis, near);
  const supplies = [...near].sort().flatMap((name) => {
    const part = analysis.parts.get(name);
    return part?.kind === 'supply' ? lowVoltageEnds(part).flatMap((end) => [...splicesOn(analysis, end), end]) : [];
  });
  const guesses = [...analysis.runs.values()].flatMap((run) => guessesIn(run, near, open, supplies));
  guesses.sort((one, other) => one.rank - other.rank);
  const added = guesses.map(
    ({ run, colour, from, to }): Fix => ({
      title: `Land ${colour} of ${quote(run)} from ${quote(pointOf(from))} to ${quote(pointOf(to))}`,
      changes: [{ kind: 'add-conductor', run, colour, from, to }],
      isGuess: true,
    }),
  );
  return [...cappedOnes(analysis, near, open), ...added].slice(0, MOST_TRIED);
}

/** Splices that wire and joints alone join to a terminal. */
function splicesOn(analysis: Analysis, end: End): readonly End[] {
  const study = studyOf(analysis);
  const { bare } = study.joined(study.topology.componentOf(pointOf(end)), []);
  const joined = analysis.installation.splices.filter(({ name }) => bare.same(name, pointOf(end)));
  return joined.map(({ name }): End => ({ part: name })).sort((one, other) => (one.part < other.part ? -1 : 1));
}

/** Conductors that are put away at one end, on what stands empty. */
function cappedOnes(analysis: Analysis, near: ReadonlySet<string>, open: readonly End[]): readonly Fix[] {
  return analysis.installation.runs.flatMap(({ name: run, conductors }) =>
    conductors.flatMap(({ colour, from, to }, conductor) => {
      const end = from?.kind === 'capped' ? 'from' : 'to';
      const [capped, landed] = end === 'from' ? [from, to] : [to, from];
      if (capped?.kind !== 'capped' || landed?.kind !== 'on' || !near.has(landed.end.part)) return [];
      return open
        .filter((on) => on.part !== landed.end.part)
        .map(
          (on): Fix => ({
            title: `Land the capped end of ${colour} of ${quote(run)} on ${quote(pointOf(on))}`,
            changes: [{ kind: 'land', run, conductor, end, on }],
            isGuess: true,
          }),
        );
    }),
  );
}

/** Where the end of a conductor that goes nowhere may belong; each is proved before it is offered. */
export function missingEnds(
  analysis: Analysis,
  { run, conductor, end }: { readonly run: string; readonly conductor: number; readonly end: 'from' | 'to' },
  landed: End,
): readonly Fix[] {
  const colour = analysis.runs.get(run)?.conductors[conductor]?.colour ?? 'a conductor';
  const near = namesAround(analysis, [landed.part, run]);
  return openEnds(analysis, near)
    .filter((on) => pointOf(on) !== pointOf(landed))
    .slice(0, MOST_TRIED)
    .map((on) => {
      const changes: readonly RecordChange[] = [{ kind: 'land', run, conductor, end, on }];
      return { title: `Land ${colour} of ${quote(run)} on ${quote(pointOf(on))}`, changes, isGuess: true };
    });
}

interface Guess {
  readonly rank: number;
  readonly run: string;
  readonly colour: string;
  readonly from: End;
  readonly to: End;
}

/** One end is on a part that the run reaches already; the other is empty too, or on a supply. */
function guessesIn(
  { run, cable, conductors }: ResolvedRun,
  near: ReadonlySet<string>,
  open: readonly End[],
  supplies: readonly End[],
): readonly Guess[] {
  const colour = cable?.colours.find((one) => !conductors.some((known) => known.colour === one));
  const [starts, ends] = (['from', 'to'] as const).map(
    (side) => new Set(conductors.flatMap((conductor) => conductor[side]?.part ?? [])),
  ) as [Set<string>, Set<string>];
  if (colour === undefined || ![...starts, ...ends].some((part) => near.has(part))) return [];
  const isOpen = (end: End) => open.includes(end);
  const others = [...open, ...supplies.filter((end) => !open.some((one) => pointOf(one) === pointOf(end)))];
  return others.flatMap((from) =>
    others.flatMap((to): readonly Guess[] => {
      if (from.part === to.part || (!isOpen(from) && !isOpen(to))) return [];
      const fits = Number(starts.has(from.part)) + Number(ends.has(to.part));
      if (fits === 0 || ends.has(from.part) || starts.has(to.part)) return [];
      return [{ rank: 2 - fits + (isOpen(from) && isOpen(to) ? 0 : 2), run: run.name, colour, from, to }];
    }),
  );
}

/** Parts and splices that hang together with the named ones. */
function namesAround(analysis: Analysis, parts: readonly string[]): ReadonlySet<string> {
  const { topology } = studyOf(analysis);
  const points = (name: string) => [
    name,
    ...(analysis.parts.get(name)?.terminals ?? []).map((terminal) => `${name}.${terminal.name}`),
  ];
  const all = [...analysis.parts.keys(), ...analysis.installation.splices.map(({ name }) => name)];
  const wanted = new Set(parts.flatMap(points).map((point) => topology.componentOf(point)));
  const around = all.filter((name) => points(name).some((point) => wanted.has(topology.componentOf(point))));
  return new Set(around.filter((name) => !analysis.installation.broken.has(name)));
}

/** Low-voltage terminals with nothing on them, and splices with one conductor or none. */
function openEnds(analysis: Analysis, near: ReadonlySet<string>): readonly End[] {
  const terminals = [...analysis.parts.values()]
    .filter(({ name }) => near.has(name))
    .flatMap((part) => lowVoltageEnds(part).filter(({ terminal }) => isEmpty(analysis, part.name, terminal!)));
  const splices = analysis.installation.splices
    .filter(({ name }) => near.has(name) && analysis.landedOn(name).length < 2)
    .map(({ name }): End => ({ part: name }));
  return [...terminals, ...splices].sort((one, other) => (pointOf(one) < pointOf(other) ? -1 : 1));
}

function lowVoltageEnds({ name, terminals }: ResolvedPart): readonly End[] {
  return terminals
    .filter(({ lineSide }) => lineSide === undefined)
    .map((terminal) => ({ part: name, terminal: terminal.name }));
}
