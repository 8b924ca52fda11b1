import { type Analysis, pointOf, type ResolvedConductor, type ResolvedRun } from '../analysis-types.js';
import type { ReportFinding } from './types.js';
import { poleOf } from '../judging/poles.js';
import { quote } from '../judging/words.js';
import type { End } from '../model.js';
import { at } from '../place-in-record.js';
import { defineCheck } from './types.js';

export const colourHabit = defineCheck({
  code: 'colour-habit',
  severity: 'hint',
  title: 'Colours do not tell two conductors apart, or tell them wrong',
  reach: 'cluster',
  run(analysis, report) {
    const { broken } = analysis.installation;
    const runs = [...analysis.runs.values()].filter(({ run }) => !broken.has(run.name));
    tellOfCrossings(runs, report);
    for (const run of runs) {
      tellOfPoles(analysis, run, report);
      tellOfEarthColour(analysis, run, report);
    }
  },
});

interface Meeting {
  readonly one: ResolvedConductor;
  readonly other: ResolvedConductor;
  readonly splice: string;
}

/** Two runs, of which one's red goes on as the other's white and its white as the other's red: the two joints look alike. */
function tellOfCrossings(runs: readonly ResolvedRun[], report: ReportFinding): void {
  for (const [index, run] of runs.entries()) {
    for (const next of runs.slice(index + 1)) {
      const meetings = meetingsOf(run, next);
      for (const [place, first] of meetings.entries()) {
        const crossed = meetings
          .slice(place + 1)
          .find(
            ({ one, other, splice }) =>
              splice !== first.splice &&
              first.one.colour !== first.other.colour &&
              one.colour === first.other.colour &&
              other.colour === first.one.colour,
          );
        if (crossed === undefined) continue;
        const [a, b] = [first.one.colour, first.other.colour];
        report({
          path: at.conductor(next.run.name, first.other.index),
          message: `${quote(first.splice)} and ${quote(crossed.splice)} each join ${a} and ${b} of ${quote(run.run.name)} and ${quote(next.run.name)} crosswise: opened, the two joints look alike. Joined ${a} to ${a} and ${b} to ${b}, either tells which side it is of.`,
          related: [{ path: at.conductor(run.run.name, first.one.index), message: `${a} goes on as ${b} here` }],
          parts: [next.run.name, run.run.name, first.splice, crossed.splice],
        });
        break;
      }
    }
  }
}

/** Splices that join one conductor of each run, in the order of the splices' names. */
function meetingsOf(run: ResolvedRun, next: ResolvedRun): readonly Meeting[] {
  const meetings = run.conductors.flatMap((one) =>
    splicesOf(one).flatMap((splice) =>
      next.conductors.filter((other) => splicesOf(other).includes(splice)).map((other) => ({ one, other, splice })),
    ),
  );
  return meetings.sort((x, y) => (x.splice < y.splice ? -1 : x.splice > y.splice ? 1 : 0));
}

function splicesOf({ from, to }: ResolvedConductor): readonly string[] {
  return [from, to].flatMap((end) => (end !== undefined && end.terminal === undefined ? [end.part] : []));
}

/** A run that brings both poles of a DC supply, with red on minus or black on plus. */
function tellOfPoles(analysis: Analysis, { run, conductors }: ResolvedRun, report: ReportFinding): void {
  const onPoles = conductors.flatMap((conductor) => {
    const pole = [conductor.from, conductor.to].map((end) => supplyPole(analysis, end)).find((found) => found);
    return pole === undefined ? [] : [{ ...conductor, pole }];
  });
  if (new Set(onPoles.map(({ pole }) => pole)).size < 2) return;
  const odd = onPoles.find(({ colour, pole }) => USUALLY[colour] !== undefined && USUALLY[colour] !== pole);
  if (odd === undefined) return;
  const { colour, pole, index } = odd;
  report({
    path: at.conductor(run.name, index),
    message: `${colour} of ${quote(run.name)} is on ${pole}: whoever opens it next takes ${colour} for ${USUALLY[colour]}. Where the wire stays, a sleeve or a label says it.`,
    parts: [run.name],
  });
}

/** The pole that a colour is taken for. */
const USUALLY: Readonly<Record<string, 'plus' | 'minus'>> = { red: 'plus', black: 'minus' };

function supplyPole(analysis: Analysis, end: End | undefined) {
  const part = end === undefined ? undefined : analysis.parts.get(end.part);
  return part?.kind !== 'supply' || end?.terminal === undefined ? undefined : poleOf(part, end.terminal);
}

/** Green/yellow (in Europe the earth's alone) on a terminal that is none of earth. */
function tellOfEarthColour(analysis: Analysis, { run, conductors }: ResolvedRun, report: ReportFinding): void {
  for (const { colour, index, from, to } of conductors) {
    if (colour.split('/').sort().join('/') !== 'green/yellow') continue;
    const misused = [from, to].find((end) => end?.terminal !== undefined && !isEarth(analysis, end));
    if (misused === undefined) continue;
    report({
      path: at.conductor(run.name, index),
      message: `${colour} of ${quote(run.name)} is on ${quote(pointOf(misused))}: it is the colour of earth, and nobody who opens it expects volts on it. Use another conductor.`,
      parts: [run.name, misused.part],
    });
  }
}

function isEarth(analysis: Analysis, { part, terminal }: End): boolean {
  const known = analysis.parts.get(part)?.terminals.find(({ name }) => name === terminal);
  return known === undefined || known.lineSide === 'ground';
}
