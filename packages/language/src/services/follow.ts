/** Following a conductor from end to end, through splices and terminals, one joint at a time. */

import { type Analysis, at, type End, type Landed, pointOf } from '@ohmstead/record';
import { stretchOf, textOf } from '../lower/sites.js';
import type { CheckedRecord } from '../pipeline.js';
import type { PlaceInText } from './names.js';
import { pointedAt } from './statement-at.js';

/** A conductor or jumper, with the end it was entered at; or a point, with the way it was reached. Plain data. */
export type Piece =
  | { readonly kind: 'conductor'; readonly run: string; readonly index: number; readonly entered?: 'from' | 'to' }
  | { readonly kind: 'jumper'; readonly name: string; readonly entered?: 'from' | 'to' }
  | { readonly kind: 'point'; readonly point: string; readonly by?: string };

export interface FollowItem extends PlaceInText {
  readonly piece: Piece;
  readonly name: string;
  readonly detail: string;
}

export interface FollowStep {
  readonly item: FollowItem;
  /** Where the item that was left goes on, in its own file or, of a plan, in the one underneath. */
  readonly places: readonly PlaceInText[];
}

/** What can be followed from an offset of the record's own file. */
export function followable(checked: CheckedRecord, offset: number): FollowItem | undefined {
  const { reading } = checked;
  const pointed = pointedAt(reading.document, offset);
  if (pointed?.kind === 'conductor') {
    const index = conductorIndex(checked, pointed.run, pointed.stretch.offset);
    const { from, to } = checked.analysis.runs.get(pointed.run)?.conductors.find((one) => one.index === index) ?? {};
    // A spare one leads nowhere.
    if (index === undefined || !(from || to)) return undefined;
    return itemOf(checked, { kind: 'conductor', run: pointed.run, index });
  }
  const use = reading.names.at(reading.document, offset);
  if (!use) return undefined;
  if (use.symbol.kind === 'jumper') return itemOf(checked, { kind: 'jumper', name: use.symbol.name });
  if (use.symbol.kind === 'splice') return itemOf(checked, { kind: 'point', point: use.symbol.name });
  const end = use.site.node as { readonly part?: unknown; readonly terminal?: unknown };
  if (typeof end.part !== 'string' || typeof end.terminal !== 'string') return undefined;
  return itemOf(checked, { kind: 'point', point: `${end.part}.${end.terminal}` });
}

function conductorIndex({ reading, analysis }: CheckedRecord, run: string, offset: number): number | undefined {
  const { conductors = [] } = analysis.runs.get(run) ?? {};
  return conductors.find(({ index }) => {
    const site = reading.sourceMap.exact(at.conductor(run, index));
    return site?.document.uri === reading.document.uri && stretchOf(site).offset === offset;
  })?.index;
}

/** What lies beyond a piece: away from where it was entered, from a piece not entered yet at the given end. */
export function followed(checked: CheckedRecord, piece: Piece, leaving: 'from' | 'to'): FollowStep[] {
  const { analysis } = checked;
  if (piece.kind === 'point') {
    // A point that was not reached by any conductor has all of its conductors both ways: an editor may ask for either first.
    const here = placeAt(checked, at.part(partOf(piece.point)));
    return analysis.landedOn(piece.point).flatMap((landed) => {
      const next = pieceOf(landed);
      const item = next && keyOf(next) !== piece.by ? itemOf(checked, next) : undefined;
      return item ? [{ item, places: here ? [here] : [] }] : [];
    });
  }
  const out = piece.entered === undefined ? leaving : piece.entered === 'from' ? 'to' : 'from';
  const end = endOf(analysis, piece, out);
  const item = end && itemOf(checked, { kind: 'point', point: pointOf(end), by: keyOf(piece) });
  if (!item) return [];
  const path =
    piece.kind === 'conductor' ? at.conductorEnd(piece.run, piece.index, out) : at.jumperEnd(piece.name, out);
  const place = placeAt(checked, path);
  return [{ item, places: place ? [place] : [] }];
}

function pieceOf(landed: Landed): Piece | undefined {
  if (landed.kind === 'conductor')
    return { kind: 'conductor', run: landed.run, index: landed.index, entered: landed.end };
  if (landed.kind === 'jumper') return { kind: 'jumper', name: landed.jumper, entered: landed.end };
  return { kind: 'point', point: `${landed.part}.${landed.terminal}`, by: `lead of ${landed.part}` };
}

function keyOf(piece: Piece): string {
  if (piece.kind === 'conductor') return `conductor ${piece.run} ${piece.index}`;
  return piece.kind === 'jumper' ? `jumper ${piece.name}` : `point ${piece.point}`;
}

function partOf(point: string): string {
  return point.split('.')[0] ?? point;
}

function placeAt({ reading }: CheckedRecord, path: string): PlaceInText | undefined {
  return reading.sourceMap.locate(path);
}

function endOf(analysis: Analysis, piece: Exclude<Piece, { kind: 'point' }>, end: 'from' | 'to'): End | undefined {
  if (piece.kind === 'jumper') return analysis.jumpers.get(piece.name)?.[end];
  return analysis.runs.get(piece.run)?.conductors.find(({ index }) => index === piece.index)?.[end];
}

function itemOf({ reading, analysis }: CheckedRecord, piece: Piece): FollowItem | undefined {
  const { sourceMap } = reading;
  const ends = (from: End | undefined, to: End | undefined): string =>
    [from, to].map((end) => (end ? pointOf(end) : 'nowhere')).join(' to ');
  if (piece.kind === 'point') {
    const part = partOf(piece.point);
    const place = sourceMap.locate(at.part(part));
    const resolved = analysis.parts.get(part);
    const detail = [resolved?.type?.name ?? 'splice', resolved?.place ? `in ${resolved.place.name}` : ''];
    return place && { ...place, piece, name: piece.point, detail: detail.filter((words) => words !== '').join(' ') };
  }
  if (piece.kind === 'jumper') {
    const jumper = analysis.jumpers.get(piece.name);
    const place = sourceMap.locate(at.jumper(piece.name));
    if (!jumper || !place) return undefined;
    return { ...place, piece, name: jumper.named ? jumper.name : jumper.kind, detail: ends(jumper.from, jumper.to) };
  }
  const conductor = analysis.runs.get(piece.run)?.conductors.find(({ index }) => index === piece.index);
  const site = sourceMap.exact(at.conductor(piece.run, piece.index));
  const place = sourceMap.locate(at.conductor(piece.run, piece.index));
  if (!conductor || !site || !place) return undefined;
  const name = `${piece.run}.${textOf(site)}`;
  return { ...place, piece, name, detail: ends(conductor.from, conductor.to) };
}
