/** Labels to cut out: both ends of every cable, the supply, spare ends, and the power-limited class at splices. */

import type { Analysis, ResolvedPart, ResolvedRun } from '@ohmstead/record';
import { colourWords } from './colour-letters.js';
import { type ConductorEnd, conductorEnds, pointOfEnd } from './landings.js';
import { ratingWords } from './materials.js';
import type { Card, Paper } from './paper.js';
import { endWords, placeWords, tradeWords } from './trade-words.js';

export interface Label extends Card {
  readonly kind: 'cable' | 'supply' | 'spare' | 'splice';
  /** The run, supply or splice it is for. */
  readonly of: string;
  readonly goesOn: string;
}

export function labels(analysis: Analysis): Label[] {
  const ends = conductorEnds(analysis);
  const runs = [...analysis.runs.values()];
  return [
    ...[...analysis.parts.values()].filter(({ kind }) => kind === 'supply').map((part) => supplyLabel(analysis, part)),
    ...runs.flatMap((run) => (['from', 'to'] as const).map((side) => cableLabel(analysis, run, side, ends))),
    ...runs.flatMap(({ run }) =>
      (['from', 'to'] as const).flatMap((side) => spareLabel(analysis, run.name, side, ends)),
    ),
    ...analysis.installation.splices.map(({ name }) => spliceLabel(analysis, name, ends)),
  ];
}

/** "red RD  bell-tx a": one line for each conductor that lands here. */
function cableLabel(
  analysis: Analysis,
  { run }: ResolvedRun,
  side: 'from' | 'to',
  ends: readonly ConductorEnd[],
): Label {
  const [here, there] = side === 'from' ? [run.fromPlace, run.toPlace] : [run.toPlace, run.fromPlace];
  const landed = ends.filter((end) => end.run === run && end.side === side && pointOfEnd(end) !== undefined);
  return {
    kind: 'cable',
    of: run.name,
    goesOn: `${run.name}, end in ${placeWords(analysis, here)}`,
    title: run.name,
    lines: [
      `${run.cableWords}, to ${placeWords(analysis, there)}`,
      ...landed.map(
        (end) => `${colourWords(end.colour)}: ${end.landing?.kind === 'on' ? endWords(analysis, end.landing.end) : ''}`,
      ),
    ],
  };
}

/** Word for word what the supply's own label says, where the record has it. */
function supplyLabel(analysis: Analysis, part: ResolvedPart): Label {
  const fed = [...new Set(analysis.circuitsOfPart(part.name).flatMap(({ devices }) => devices))];
  return {
    kind: 'supply',
    of: part.name,
    goesOn: `${part.name}, in ${placeWords(analysis, part.place?.name)}`,
    title: part.name,
    lines: [
      ratingWords(part),
      ...part.facts.labels,
      fed.length === 0 ? 'Feeds nothing' : `Feeds ${fed.join(', ')}`,
      `Breaker: ${blank}`,
      'Switch it off before you open anything it feeds.',
    ].filter((line) => line !== ''),
  };
}

const blank = '________';

function spareLabel(analysis: Analysis, name: string, side: 'from' | 'to', ends: readonly ConductorEnd[]): Label[] {
  const loose = ends.filter((end) => end.run.name === name && end.side === side && pointOfEnd(end) === undefined);
  const first = loose[0];
  if (first === undefined) return [];
  const there = side === 'from' ? first.run.toPlace : first.run.fromPlace;
  const state = ({ spare, other }: ConductorEnd) =>
    spare || other?.kind !== 'on' ? 'spare' : `other end on ${endWords(analysis, other.end)}`;
  return [
    {
      kind: 'spare',
      of: name,
      goesOn: `${name}, loose ends in ${placeWords(analysis, first.place)}`,
      title: 'Spare, capped',
      lines: [
        `${name}, to ${placeWords(analysis, there)}`,
        ...loose.map((end) => `${colourWords(end.colour)}: ${state(end)}`),
      ],
    },
  ];
}

function spliceLabel(analysis: Analysis, name: string, ends: readonly ConductorEnd[]): Label {
  const landed = ends.filter((end) => pointOfEnd(end) === name);
  const supplies = [
    ...new Set(
      analysis.circuits.filter(({ circuit }) => circuit.points.includes(name)).flatMap((circuit) => circuit.supplies),
    ),
  ];
  const classes = supplies.flatMap(
    (supply) =>
      analysis.parts.get(supply)?.facts.labels.flatMap((label) => /\bclass\s*[23]\b/i.exec(label)?.[0] ?? []) ?? [],
  );
  return {
    kind: 'splice',
    of: name,
    goesOn: `${tradeWords(analysis.installation.profile).splice} ${name}`,
    title: name,
    lines: [
      supplies.length === 0 ? 'Fed by nothing in the record' : `Fed by ${supplies.join(', ')}`,
      `Power-limited: ${classes.length === 0 ? `class ${blank}` : `${[...new Set(classes)].join(', ')}, as on the supply's label`}`,
      ...landed.map((end) => `${end.run.name} ${colourWords(end.colour)}`),
    ],
  };
}

export function labelPaper(analysis: Analysis): Paper {
  const all = labels(analysis);
  const intro =
    all.length === 0 ? 'Nothing to label yet.' : 'Cut along the frames. Each label says above it where it goes.';
  return {
    name: 'labels',
    title: 'Labels',
    blocks: [
      { kind: 'words', text: intro },
      { kind: 'cards', cards: all.map(({ title, lines, goesOn }) => ({ title, lines, goesOn })) },
    ],
    table: {
      kind: 'table',
      head: ['Goes on', 'Title', 'Text'],
      rows: all.map(({ goesOn, title, lines }) => [goesOn, title, lines.join('; ')]),
    },
  };
}
