/** The termination schedule: every screw and splice by place, what lands on it, and where the other end is. */

import { type Analysis, type End, type Landing, pointOf } from '@ohmstead/record';
import { type Block, type Cell, type Paper, type Table, tick } from './paper.js';
import { type ConductorEnd, conductorEnds, placeOfPart, pointOfEnd } from './landings.js';
import { eitherScrew, endWords, placeWords, screwWords, tradeWords } from './trade-words.js';
import { upperFirst } from '../words.js';

export interface TerminationRow {
  readonly place: string | undefined;
  /** A part's, splice's or, for loose ends, a run's name. */
  readonly part: string;
  /** The screw's words; empty for a splice. */
  readonly screw: string;
  readonly what: string;
  readonly colour?: string;
  readonly otherEnd: string;
  /** The conductor's end that the row stands for; absent for jumpers, leads and empty screws. */
  readonly end?: ConductorEnd;
}

/** Rows by place in the record's order, then by part and screw; each end of each conductor stands in exactly one. */
export function terminationRows(analysis: Analysis): TerminationRow[] {
  const ends = conductorEnds(analysis);
  const taken = new Set<ConductorEnd>();
  const at = (point: string): ConductorEnd[] => ends.filter((end) => pointOfEnd(end) === point);
  const rows: TerminationRow[] = [];
  const enter = (part: string, point: string, screw: string, empty: string | undefined) => {
    const place = placeOfPart(analysis, part);
    const landed = at(point).map((end) => {
      taken.add(end);
      return conductorRow(analysis, end, { place, part, screw });
    });
    const found = [...landed, ...otherLandings(analysis, point, { place, part, screw })];
    if (found.length === 0 && empty !== undefined) rows.push({ place, part, screw, what: empty, otherEnd: '' });
    rows.push(...found);
  };
  for (const part of analysis.parts.values()) {
    for (const terminal of part.terminals) {
      const mains = terminal.lineSide !== undefined;
      const empty = mains ? `${tradeWords(analysis.installation.profile).mainsSide}, not in this record` : 'nothing';
      enter(part.name, `${part.name}.${terminal.name}`, screwWords(terminal), empty);
    }
  }
  for (const splice of analysis.installation.splices) enter(splice.name, splice.name, '', 'nothing');
  const loose = ends.filter((end) => !taken.has(end)).map((end) => looseRow(analysis, end));
  return byPlace(analysis, [...rows, ...loose]);
}

type Where = Pick<TerminationRow, 'place' | 'part' | 'screw'>;

function conductorRow(analysis: Analysis, end: ConductorEnd, where: Where): TerminationRow {
  const { run, colour, other } = end;
  return { ...where, what: `${run.name}, ${run.cableWords}`, colour, otherEnd: landingWords(analysis, other), end };
}

function landingWords(analysis: Analysis, landing: Landing | undefined): string {
  switch (landing?.kind) {
    case 'on':
      return farWords(analysis, landing.end);
    case 'capped':
      return 'capped';
    case 'unknown':
      return 'not known';
    default:
      return 'not recorded';
  }
}

function farWords(analysis: Analysis, end: End): string {
  const place = placeOfPart(analysis, end.part);
  return `${endWords(analysis, end)}${place === undefined ? '' : `, ${placeWords(analysis, place)}`}`;
}

/** Jumpers, pigtails and parts' own leads: they belong to both points that they join. */
function otherLandings(analysis: Analysis, point: string, where: Where): TerminationRow[] {
  const words = tradeWords(analysis.installation.profile);
  const jumpers = [...analysis.jumpers.values()].flatMap((jumper) =>
    (['from', 'to'] as const).flatMap((side) => {
      if (pointOf(jumper[side]) !== point) return [];
      const what = `${words[jumper.kind]}${jumper.named ? ` ${jumper.name}` : ''}`;
      return [{ ...where, what, otherEnd: farWords(analysis, jumper[side === 'from' ? 'to' : 'from']) }];
    }),
  );
  const parts = [...analysis.installation.supplies, ...analysis.installation.devices];
  const leads = parts.flatMap((part) =>
    part.lands.flatMap(({ terminal, on }) => {
      const own = { part: part.name, terminal };
      if (pointOf(on) === point) return [{ ...where, what: 'own lead', otherEnd: farWords(analysis, own) }];
      if (pointOf(own) === point) return [{ ...where, what: 'own lead', otherEnd: farWords(analysis, on) }];
      return [];
    }),
  );
  return [...jumpers, ...leads];
}

/** An end that lands on no screw of the record: capped, spare, unknown, or on something that is not there. */
function looseRow(analysis: Analysis, end: ConductorEnd): TerminationRow {
  const { run, landing, other, spare, place } = end;
  const state = () => {
    if (spare) return 'spare, cap it';
    if (landing?.kind === 'on') return `on ${pointOf(landing.end)}, which is not in the record`;
    if (landing?.kind === 'capped') return 'capped';
    return landing?.kind === 'unknown' ? 'where it lands is not known' : 'not landed';
  };
  const otherEnd = spare ? 'spare' : landingWords(analysis, other);
  return { place, part: run.name, screw: '', what: state(), colour: end.colour, otherEnd, end };
}

/** The sort is stable: inside a place, parts stand in order of name and loose ends last. */
function byPlace({ installation }: Analysis, rows: readonly TerminationRow[]): TerminationRow[] {
  const order = new Map(installation.places.map(({ name }, index) => [name, index]));
  const rank = ({ place }: TerminationRow) => (place === undefined ? order.size : (order.get(place) ?? order.size));
  return [...rows].sort(
    (a, b) => rank(a) - rank(b) || ((a.place ?? '') < (b.place ?? '') ? -1 : a.place === b.place ? 0 : 1),
  );
}

const head = ['Part', 'Screw', 'What lands on it', 'Colour', 'Its other end', 'Done'];

const widths = [17, 13, 30, 15, 28, 7];

export function terminationPaper(analysis: Analysis): Paper {
  const rows = terminationRows(analysis);
  const places = [...new Set(rows.map(({ place }) => place))];
  const blocks = places.flatMap((place): Block[] => {
    const here = rows.filter((row) => row.place === place);
    return [
      { kind: 'heading', text: upperFirst(placeWords(analysis, place)) },
      { kind: 'table', head, rows: here.map((row, index) => cells(analysis, row, here[index - 1])), widths },
    ];
  });
  const table: Table = {
    kind: 'table',
    head: ['Place', ...head.slice(0, 5)],
    rows: rows.map((row) => [row.place ?? '', ...cells(analysis, row, undefined).slice(0, 5)]),
  };
  return { name: 'terminations', title: 'Termination schedule', blocks: [...blocks, note(analysis, rows)], table };
}

/** A part's and a screw's name is not repeated down the column. */
function cells(analysis: Analysis, row: TerminationRow, above: TerminationRow | undefined): Cell[] {
  const samePart = above?.part === row.part;
  const sameScrew = samePart && above?.screw === row.screw;
  const part = analysis.parts.get(row.part);
  const either = part !== undefined && eitherScrew(part) && row.screw.length === 1 ? ' (either)' : '';
  return [
    samePart ? '' : row.part,
    sameScrew ? '' : `${row.screw}${either}`,
    row.what,
    row.colour === undefined ? '' : { colour: row.colour },
    row.otherEnd,
    row.end === undefined && row.otherEnd === '' ? '' : tick,
  ];
}

function note(analysis: Analysis, rows: readonly TerminationRow[]): Block {
  const landed = rows.filter(({ end }) => end !== undefined && pointOfEnd(end) !== undefined).length;
  const { splices } = tradeWords(analysis.installation.profile);
  const text =
    rows.length === 0
      ? 'The record has no part with a screw yet.'
      : `${landed} landed conductor ends on screws and in ${splices}. Either: the part does not mind which of its two screws. Letters after colours are those of IEC 60757.`;
  return { kind: 'words', text };
}
