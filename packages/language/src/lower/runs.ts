/** Runs with their conductors, and jumpers. */

import { at, type CableType, type Conductor, type Figure, type Jumper, pointOf, type Run } from '@ohmstead/record';
import type { Conductor as ConductorNode, Jumper as JumperNode, Quantity, Run as RunNode } from '../generated/ast.js';
import type { WiringDocument } from '../reading/document.js';
import { nearestTypes } from '../reading/nearest.js';
import type { ReadSlice } from '../reading/parser.js';
import { colourIn, lowerCable } from './cables.js';
import type { LoweringContext } from './context.js';
import { lowerEnd, lowerLanding, lowerPlace, type TypeLookup } from './ends.js';
import { figureOf, readFigure } from './figures.js';
import { lowerBeside } from './line-side.js';
import { factsAsMeant } from './misspelt-beside.js';
import { asBefore, remembered } from './remembered.js';
import { isDate } from './part-facts.js';
import { textOf } from './sites.js';

type Mutable<T> = { -readonly [Key in keyof T]: T[Key] };

interface RunTypes extends TypeLookup {
  readonly cableTypes: ReadonlyMap<string, CableType>;
}

export function lowerRun(context: LoweringContext, node: RunNode, types: RunTypes): Run {
  context.put(at.run(node.name), node, 'name');
  const run: Mutable<Run> = { name: node.name, cableWords: '', conductors: [], notes: [] };
  const facts = factsAsMeant(context, node);
  if (node.cable) {
    context.put(at.cable(node.name), node.cable);
    const numbered = facts.some((fact) => fact.$type === 'Conductor' && /^\d+$/.test(fact.colour));
    const by = node.cable.type === undefined ? `${context.profile} ${numbered}` : types.cableTypes.get(node.cable.type);
    const { cable, words } = remembered(context, node.cable, by, () => ({
      cable: lowerCable(context, node.cable, types.cableTypes, numbered),
      words: textOf(context.site(node.cable)),
    }));
    run.cableWords = words;
    if (cable) run.cable = cable;
    noteCableType(context, node, types);
  }
  lowerExtents(context, node, run);
  const notes: string[] = [];
  const conductors: Conductor[] = [];
  const stated: ConductorNode[] = [];
  const beside: NonNullable<Run['beside']>[number][] = [];
  for (const fact of facts) {
    switch (fact.$type) {
      case 'Conductor':
        stated.push(fact);
        conductors.push(lowerConductor(context, fact, run.cable, types));
        break;
      case 'Note':
        notes.push(fact.words);
        break;
      case 'Installed':
        isDate(context, fact.date, fact);
        break;
      case 'Loop':
        setLength(context, node, run, 'loopOhms', fact.figure);
        break;
      case 'Beside': {
        const spacing = lowerBeside(context, node.name, beside.length, fact);
        if (spacing) beside.push(spacing);
        break;
      }
      case 'RunFlag':
        run.raceway = true;
        break;
    }
  }
  run.conductors = conductors;
  run.notes = notes;
  if (beside.length > 0) run.beside = beside;
  placeConductors(context, node.name, stated);
  return run;
}

function noteCableType(context: LoweringContext, node: RunNode, types: RunTypes): void {
  const type = node.cable.type;
  if (type === undefined) return;
  const site = context.site(node.cable, 'type');
  const symbol = context.names.find('type', type);
  if (symbol) context.names.refer(symbol, site);
  if (types.cableTypes.has(type) || context.unreadNames.has(type)) return;
  const partType = types.partTypes.get(type);
  const nearest = partType ? [] : nearestTypes(type, [...types.cableTypes.keys()]);
  const facts = { type, kind: 'cable', nearest, ...(partType ? { isA: partType.of } : {}) } as const;
  context.report('unknown-type', facts, site, { instead: nearest });
}

function lowerExtents(context: LoweringContext, node: RunNode, run: Mutable<Run>): void {
  let placed = false;
  for (const extent of node.extents) {
    if (isHalfWritten(extent)) continue;
    if (extent.$type === 'RunLength') {
      setLength(context, node, run, extent.loop ? 'loopOhms' : 'length', extent.figure);
      continue;
    }
    if (placed) {
      context.report('syntax', { what: 'repeated-fact', fact: 'from … to …', of: node.name }, context.site(extent));
      continue;
    }
    placed = true;
    context.put(at.runPlace(node.name, 'from'), extent, 'from');
    context.put(at.runPlace(node.name, 'to'), extent, 'to');
    const from = lowerPlace(context, extent, 'from');
    const to = lowerPlace(context, extent, 'to');
    if (from !== undefined) run.fromPlace = from;
    if (to !== undefined) run.toPlace = to;
  }
}

/** Where the statement could not be read on. */
function isHalfWritten(extent: RunNode['extents'][number]): boolean {
  return extent.$type === 'RunLength' ? extent.figure === undefined : extent.to === undefined;
}

function setLength(
  context: LoweringContext,
  node: RunNode,
  run: Mutable<Run>,
  fact: 'length' | 'loopOhms',
  quantity: Quantity,
): void {
  if (run.length || run.loopOhms) {
    context.report('syntax', { what: 'repeated-fact', fact: 'length', of: node.name }, context.site(quantity));
    return;
  }
  context.put(at.length(node.name), quantity);
  const of = fact === 'length' ? "a run's length" : "a run's loop";
  const figure = remembered(context, quantity, of, (): Figure | undefined => {
    const read = readFigure(context, quantity, [fact === 'length' ? 'length' : 'ohms'], of);
    return read && figureOf(read);
  });
  if (figure) run[fact] = figure;
}

function lowerConductor(
  context: LoweringContext,
  node: ConductorNode,
  cable: CableType | undefined,
  types: TypeLookup,
): Conductor {
  const from = lowerLanding(context, node.from, types);
  const to = lowerLanding(context, node.to, types);
  const conductor: Mutable<Conductor> = { colour: colourIn(cable, node.colour), spare: node.spare };
  if (from) conductor.from = from;
  if (to) conductor.to = to;
  return conductor;
}

function placeConductors(context: LoweringContext, run: string, conductors: readonly ConductorNode[]): void {
  context.putLater(at.run(run), (put) => {
    for (const [index, node] of conductors.entries()) {
      put(at.conductor(run, index), node, 'colour');
      if (node.from) put(at.conductorEnd(run, index, 'from'), node.from);
      if (node.to) put(at.conductorEnd(run, index, 'to'), node.to);
    }
  });
}

/** A jumper before those without a name are numbered. */
interface ReadJumper {
  readonly jumper: Omit<Jumper, 'name'> & { readonly name?: string };
  readonly node: JumperNode;
}

/** A jumper in its text. */
export interface StandingJumper extends ReadJumper {
  readonly document: WiringDocument;
  readonly slice: ReadSlice;
}

export function lowerJumper(context: LoweringContext, node: JumperNode, types: TypeLookup): ReadJumper | undefined {
  const from = lowerEnd(context, node.from, types);
  const to = node.to && lowerEnd(context, node.to, types);
  if (!from || !to) return undefined;
  const kind = node.kind.toLowerCase() as Jumper['kind'];
  const { name } = node;
  if (name === undefined) return { jumper: { named: false, kind, from, to }, node };
  placeJumper(context, node, name);
  return { jumper: asBefore(node, { name, named: true, kind, from, to }), node };
}

function placeJumper(context: LoweringContext, node: JumperNode, name: string): void {
  context.put(at.jumper(name), node, node.name === undefined ? undefined : 'name');
  context.put(at.jumperEnd(name, 'from'), node.from);
  context.put(at.jumperEnd(name, 'to'), node.to);
}

/** Names the unnamed `jumper-1` … in order of their ends, so that the order of statements never matters. */
export function nameJumpers(
  context: LoweringContext,
  read: readonly StandingJumper[],
  taken: ReadonlySet<string> = new Set(),
): Jumper[] {
  const unnamed = read.filter(({ jumper }) => !jumper.named);
  const ends = ({ jumper }: ReadJumper) => [pointOf(jumper.from), pointOf(jumper.to)].sort().join(' ');
  unnamed.sort((a, b) => (ends(a) < ends(b) ? -1 : 1));
  const given = new Map<ReadJumper, string>();
  let count = 0;
  for (const one of unnamed) {
    do count++;
    while (taken.has(`jumper-${count}`) || context.names.find('part', `jumper-${count}`));
    given.set(one, `jumper-${count}`);
  }
  return read.map((one) => {
    const { jumper, node, document, slice } = one;
    const name = given.get(one);
    if (name === undefined) return jumper as Jumper;
    context.enter(document, slice);
    placeJumper(context, node, name);
    return remembered(context, node, name, () => ({ ...jumper, name }));
  });
}
