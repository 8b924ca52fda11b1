/** The line side: boxes, grounds, what a branch circuit states, and spacing from a line-voltage run. */

import { at, type Box, type FactName, type Ground, type PartFacts, type Run } from '@ohmstead/record';
import type { AstNode } from 'langium';
import type { Beside, Box as BoxNode, BranchFact, Ground as GroundNode } from '../generated/ast.js';
import type { LoweringContext } from './context.js';
import { lowerEnd, lowerPlace, type TypeLookup, unknownName } from './ends.js';
import { readFigure } from './figures.js';
import { isDate } from './part-facts.js';

type Mutable<T> = { -readonly [Key in keyof T]: T[Key] };

export function lowerBoxFacts(context: LoweringContext, node: BoxNode): Box {
  const flags = new Set<string>();
  const notes: string[] = [];
  let volume: number | undefined;
  for (const fact of node.facts) {
    if (fact.$type === 'BoxFlag') flags.add(fact.word.toLowerCase());
    else if (fact.$type === 'Note') notes.push(fact.words);
    else if (fact.$type === 'Installed') isDate(context, fact.date, fact);
    else if (fact.$type === 'Volume') {
      if (volume !== undefined) {
        const facts = { what: 'repeated-fact', fact: 'volume', of: node.name } as const;
        context.report('syntax', facts, context.site(fact));
        continue;
      }
      context.put(at.boxVolume(node.name), fact);
      volume = readFigure(context, fact.figure, ['volume'], "a box's volume")?.least;
    }
  }
  return {
    name: node.name,
    ...(node.place === undefined ? {} : { place: node.place }),
    ...(volume === undefined ? {} : { volume }),
    metal: flags.has('metal'),
    clamps: flags.has('clamps'),
    barrier: flags.has('barrier'),
    notes,
  };
}

/** Undefined, with the reason reported, where its end or its box is no such thing. */
export function lowerGround(
  context: LoweringContext,
  node: GroundNode,
  types: TypeLookup,
  index: number,
): Ground | undefined {
  const end = lowerEnd(context, node.end, types);
  const symbol = context.names.find('part', node.box);
  if (symbol?.kind !== 'box') {
    const boxes = [...context.names.names('part')].filter(({ kind }) => kind === 'box').map(({ name }) => name);
    unknownName(context, node, 'box', node.box, 'box', boxes);
    return undefined;
  }
  context.names.refer(symbol, context.site(node, 'box'));
  if (!end) return undefined;
  context.put(at.ground(index), node);
  return { end, box: node.box };
}

/** A run's spacing from another; undefined, with the reason reported, where there is no such run. */
export function lowerBeside(
  context: LoweringContext,
  run: string,
  index: number,
  node: Beside,
): NonNullable<Run['beside']>[number] | undefined {
  const symbol = context.names.find('part', node.run);
  if (symbol?.kind !== 'run') {
    const runs = [...context.names.names('part')].filter(({ kind }) => kind === 'run').map(({ name }) => name);
    unknownName(context, node, 'run', node.run, 'run', runs);
    return undefined;
  }
  context.names.refer(symbol, context.site(node, 'run'));
  context.put(at.beside(run, index), node);
  const read = readFigure(context, node.distance, ['length'], 'the distance between two runs');
  return read && { run: node.run, metres: read.least };
}

/** Takes a fact of a branch circuit into a supply's facts; `once` is false for one that is already stated. */
export function takeBranchFact(
  context: LoweringContext,
  facts: Mutable<PartFacts>,
  fact: BranchFact,
  once: (name: string, node: AstNode) => boolean,
  put: (name: FactName, node: AstNode) => void,
): void {
  if (fact.breaker) {
    if (!once('breaker', fact)) return;
    const read = readFigure(context, fact.breaker, ['amps'], 'what a breaker lets through');
    if (read) facts.breakerAmps = read.least;
  } else if (fact.load) {
    put('existing-load', fact);
    const read = readFigure(context, fact.load, ['amps'], 'an existing load');
    if (read) {
      const load = { amps: read.least, continuous: fact.continuous };
      facts.existingLoads = [...(facts.existingLoads ?? []), load];
    }
  } else if (fact.circuit !== undefined && once('circuit', fact)) facts.circuit = fact.circuit;
}

/** A box is a place: what stands in it is its contents. */
export function placeOfBox(context: LoweringContext, node: BoxNode): string | undefined {
  context.put(at.place(node.name), node, 'name');
  return lowerPlace(context, node, 'place');
}
