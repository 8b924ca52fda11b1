/** How one part is drawn: terminals on its edges, and each element upright between the rails of its two terminals. */

import { formatVolts } from '@ohmstead/circuit';
import type { PartElement, ResolvedPart } from '@ohmstead/record';
import { type Column, type PartFigure, type Rail, textWidth } from './geometry.js';
import type { Flow, Side } from './flow.js';
import type { Moment } from './moment.js';

const ROW = 46;
const COLUMN = 64;
const HEADER = 34;
const EDGE = 22;
const nameSize = 13;
export const smallSize = 10.5;
const terminalSize = 10.5;
const LONGEST_ABOUT = 40;

/** A jumper between two screws of the same part: it is drawn with the part, as wires are drawn between parts. */
export interface Bridge {
  readonly id: string;
  readonly words: string;
  readonly a: string;
  readonly b: string;
}

interface Piece {
  readonly id: string;
  readonly width: number;
  readonly caption: string;
  readonly bridge: boolean;
  readonly element: PartElement;
  readonly a: string;
  readonly b: string;
  readonly closed: boolean;
}

export function partFigure(
  part: ResolvedPart,
  moment: Moment,
  flow: Flow,
  bridges: readonly Bridge[] = [],
): PartFigure {
  const pieces = [...piecesOf(part, moment), ...bridges.map(pieceOfBridge)];
  const used = new Set(pieces.flatMap(({ a, b }) => [a, b]));
  const sides = new Map(part.terminals.map(({ name }) => [name, flow.sideOf(part.name, name)]));
  const rows = rowsOf(part, pieces, sides);
  const west = widest(part, sides, 'WEST');
  const east = widest(part, sides, 'EAST');
  const about = clipped(part.type?.words ?? part.type?.name ?? 'unknown type');
  const inner =
    Math.max(
      COLUMN,
      pieces.reduce((sum, piece) => sum + piece.width, 0),
    ) + 14;
  const width = Math.ceil(
    Math.max(west + inner + east, textWidth(part.name, nameSize) + 34, textWidth(about, smallSize) + 14),
  );
  const offset = west + (width - west - east - inner) / 2;
  const y = (terminal: string) => HEADER + EDGE + (rows.get(terminal) ?? 0) * ROW;
  let at = offset;
  const columns = pieces.map(({ id, element, a, b, closed, width: wide, caption, bridge }): Column => {
    const [from, to] = [y(a), y(b)];
    // The symbol stands in the gap next to its first terminal, where no other rail runs.
    const middle = from === to ? from : from + (Math.sign(to - from) * ROW) / 2;
    const x = at + COLUMN / 2 - 12;
    at += wide;
    return { id, element, x, y: middle, from, to, closed, live: moment.isLive(id), caption, bridge };
  });
  const rails = part.terminals.map((terminal): Rail => {
    const own = columns.filter((_, index) => [pieces[index]!.a, pieces[index]!.b].includes(terminal.name));
    const side = sides.get(terminal.name) ?? 'WEST';
    const xs = own.map(({ x }) => x).sort((one, other) => (side === 'WEST' ? one - other : other - one));
    const edge = side === 'WEST' ? 0 : width;
    const stub = side === 'WEST' ? 10 : width - 10;
    const live = own.some((column) => column.live);
    const words = terminal.words ?? terminal.name;
    return {
      terminal: terminal.name,
      words,
      side,
      y: y(terminal.name),
      end: xs.at(-1) ?? (used.size > 0 ? stub : edge),
      dots: xs.slice(0, -1),
      live,
    };
  });
  const last = Math.max(0, ...rows.values());
  return {
    width,
    height: part.terminals.length === 0 ? HEADER : HEADER + 2 * EDGE + last * ROW,
    top: HEADER,
    name: part.name,
    about,
    columns,
    rails,
    core: coreOf(columns),
  };
}

/** Volts across these say nothing that the drawing does not show. */
const silent = new Set<PartElement['kind']>(['contact', 'link', 'primary', 'diode', 'bypass']);

/** Primaries first, so that a transformer's sides face each other; a changeover is two contacts that take turns. */
function piecesOf(part: ResolvedPart, moment: Moment): Piece[] {
  const present = part.elements.filter((resolved) => resolved.present);
  const ordered = [
    ...present.filter(({ element }) => element.kind === 'primary'),
    ...present.filter(({ element }) => element.kind !== 'primary'),
  ];
  return ordered.flatMap((resolved): Piece[] => {
    const { id, element } = resolved;
    const closed = moment.isClosed(resolved);
    const [a, b] = [terminalOf(resolved.a), terminalOf(resolved.b)];
    const volts = silent.has(element.kind) ? undefined : moment.volts(resolved);
    const caption = volts === undefined ? '' : formatVolts(volts);
    const made: Piece = { id, element, a, b, closed, caption, width: COLUMN, bridge: false };
    if (element.kind !== 'contact' || element.restTo === undefined) return [made];
    return [made, { ...made, id: `${id}/rest`, b: element.restTo, closed: !closed }];
  });
}

function pieceOfBridge({ id, words, a, b }: Bridge): Piece {
  const element: PartElement = { kind: 'link', a, b, asRated: false };
  const width = Math.max(COLUMN, textWidth(words, smallSize) + 30);
  return { id, element, a, b, closed: true, caption: words, width, bridge: true };
}

const terminalOf = (point: string): string => point.slice(point.indexOf('.') + 1);

/** A row for each terminal; both sides share rows where nothing inside joins them. */
function rowsOf(part: ResolvedPart, pieces: readonly Piece[], sides: ReadonlyMap<string, Side>): Map<string, number> {
  const joined = pieces.some(({ a, b }) => sides.get(a) !== sides.get(b));
  const rows = new Map<string, number>();
  const names = part.terminals.map(({ name }) => name);
  const westward = names.filter((name) => sides.get(name) === 'WEST');
  const eastward = names.filter((name) => sides.get(name) !== 'WEST');
  if (!joined) {
    for (const list of [westward, eastward]) for (const [index, name] of list.entries()) rows.set(name, index);
    return rows;
  }
  // A terminal that faces several stands in the middle, so that its elements reach up and down from it.
  const half = Math.ceil(eastward.length / 2);
  const order =
    eastward.length === 1
      ? [...westward, ...eastward]
      : [...eastward.slice(0, half), ...westward, ...eastward.slice(half)];
  for (const [index, name] of order.entries()) rows.set(name, index);
  return rows;
}

function widest(part: ResolvedPart, sides: ReadonlyMap<string, Side>, side: Side): number {
  const widths = part.terminals
    .filter(({ name }) => sides.get(name) === side)
    .map(({ words, name }) => textWidth(words ?? name, terminalSize));
  return Math.max(8, ...widths.map((width) => width + 14));
}

/** Between the last primary and the first winding. */
function coreOf(columns: readonly Column[]): PartFigure['core'] {
  const primary = columns.filter(({ element }) => element.kind === 'primary').at(-1);
  const winding = columns.find(({ element }) => element.kind === 'winding');
  if (primary === undefined || winding === undefined) return [];
  const middle = (primary.x + winding.x) / 2;
  const y = Math.min(primary.y, winding.y);
  return [{ x: middle, from: y - 16, to: y + 16 }];
}

function clipped(words: string): string {
  return words.length > LONGEST_ABOUT ? `${words.slice(0, LONGEST_ABOUT - 1).trimEnd()}…` : words;
}
