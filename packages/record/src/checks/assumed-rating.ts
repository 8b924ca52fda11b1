import type { Analysis, CircuitAnalysis } from '../analysis-types.js';
import { type AssumedFigure, assumedFiguresOf, assumedLengthOf, type Move } from '../judging/assumed-figures.js';
import { severityRank } from '../judging/raise.js';
import { studyOf } from '../judging/study.js';
import { hasThinMargin, type Verdict, type VerdictKind, verdictsOf } from '../judging/verdicts.js';
import { trial } from '../judging/what-if.js';
import { quote } from '../judging/words.js';
import { at } from '../place-in-record.js';
import { defineCheck, type Raised } from './types.js';

/** Findings that a computed figure decides, with the verdict behind each. */
const COMPUTED: Readonly<Record<string, readonly VerdictKind[]>> = {
  'device-undervoltage': ['starves'],
  'load-collapses': ['starves'],
  'supply-overloaded': ['overloaded'],
  'chime-never-rings': ['silent'],
  'chime-energized-idle': ['driven'],
  'chime-hums': ['hums'],
  'bypass-missing': ['starves', 'hums'],
};

export const assumedRating = defineCheck({
  code: 'assumed-rating',
  severity: 'hint',
  title: 'A finding or a thin margin leans on an assumed figure',
  reach: 'cluster',
  runAfter(analysis, found, report) {
    const study = studyOf(analysis);
    for (const circuit of study.measured) {
      const told = found.filter(
        ({ check, parts }) => check.code in COMPUTED && parts.some((part) => isIn(circuit, part)),
      );
      if (told.length === 0 && !hasThinMargin(analysis, circuit)) continue;
      const hasError = found.some(
        ({ severity, parts }) => severityRank[severity] === 0 && parts.some((part) => isIn(circuit, part)),
      );
      for (const name of [...circuit.supplies, ...circuit.devices, ...circuit.runs]) {
        const leaning = leaningOn(analysis, circuit, name, told, hasError);
        if (leaning === undefined) continue;
        const path = analysis.runs.has(name) ? at.run(name) : at.part(name);
        report({ path, message: sentence(leaning), parts: [name] });
      }
    }
    for (const { part, words } of analysis.assumptions.filter(({ what }) => what === 'unsolved')) {
      if (analysis.installation.broken.has(part)) continue;
      report({ path: at.part(part), message: `${quote(part)}: ${words}.`, parts: [part] });
    }
  },
});

function isIn({ supplies, devices, runs }: CircuitAnalysis, name: string): boolean {
  return supplies.includes(name) || devices.includes(name) || runs.includes(name);
}

interface Leaning {
  readonly figure: AssumedFigure;
  readonly move: Move;
  readonly verdict: Verdict;
  /** Whether the verdict comes with the moved figure, or goes. */
  readonly comes: boolean;
}

/** The first of a part's assumed figures on which a verdict turns; all are moved at once before they are moved one by one. */
function leaningOn(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  name: string,
  told: readonly Raised[],
  hasError: boolean,
): Leaning | undefined {
  const length = analysis.runs.has(name) ? assumedLengthOf(analysis, name) : undefined;
  const figures = length === undefined ? assumedFiguresOf(analysis, name) : [length];
  const tried = (moves: readonly Move[], what: string) =>
    changeOf(analysis, circuit, name, what, moves, told, hasError);
  const ways = ['up', 'down'] as const;
  const movesOf = (way: 'up' | 'down') => figures.flatMap((figure) => figure[way] ?? []);
  if (figures.length > 1 && !ways.some((way) => tried(movesOf(way), `all ${way}`))) return undefined;
  for (const figure of figures) {
    for (const way of ways) {
      const move = figure[way];
      const change = move && tried([move], `${figure.what} ${way} ${move.figure}`);
      if (change !== undefined) return { figure, move: move!, ...change };
    }
  }
  return undefined;
}

/** What the moved figures change: a verdict that somebody was told of goes, or one comes where all was well. */
function changeOf(
  analysis: Analysis,
  circuit: CircuitAnalysis,
  name: string,
  what: string,
  moves: readonly Move[],
  told: readonly Raised[],
  hasError: boolean,
): Pick<Leaning, 'verdict' | 'comes'> | undefined {
  if (moves.length === 0) return undefined;
  const parts = circuit.supplies.concat(circuit.devices);
  const after = trial(analysis, parts, `moved ${name} ${what}`, (record) =>
    moves.reduce((so, move) => move.apply(so), record),
  );
  const now = verdictsOf(analysis, circuit);
  const then = new Map(after.circuits.flatMap((one) => [...verdictsOf(after, one)]));
  for (const { check, parts: of } of told) {
    const behind = (verdicts: ReadonlyMap<string, Verdict>) =>
      [...verdicts.values()].filter(({ kind, part }) => COMPUTED[check.code]!.includes(kind) && of.includes(part));
    const [verdict] = behind(now);
    if (verdict !== undefined && behind(then).length === 0) return { verdict, comes: false };
  }
  if (hasError) return undefined;
  for (const [key, verdict] of then) if (!now.has(key)) return { verdict, comes: true };
  return undefined;
}

function sentence({ figure, move, verdict, comes }: Leaning): string {
  const known = figure.what === 'length' ? 'is what the record says' : 'is assumed';
  const assumed = /known$|assumed$/.test(figure.figure) ? figure.figure : `${figure.figure} ${known}`;
  return `${figure.advice}: ${assumed}, and with ${move.figure} ${outcome(verdict, comes)}.`;
}

function outcome({ kind, part }: Verdict, comes: boolean): string {
  const [there, gone] = OUTCOMES[kind];
  return `${quote(part)} ${comes ? there : gone}`;
}

const OUTCOMES: Readonly<Record<VerdictKind, readonly [comes: string, goes: string]>> = {
  starves: ['would not get the volts it needs', 'would get what it needs'],
  silent: ['would not be sure to ring', 'would ring'],
  hums: ['might hum at rest', 'would be quiet at rest'],
  driven: ['would be driven at rest', 'would be at rest'],
  overloaded: ['would be overloaded', 'would carry it'],
};
