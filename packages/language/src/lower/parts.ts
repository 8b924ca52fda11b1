/** Places, supplies, devices and splices. */

import { at, type Part, type PartType, type Place, type Splice } from '@ohmstead/record';
import type { Box, Device, Place as PlaceNode, Splice as SpliceNode, Supply } from '../generated/ast.js';
import { nearestNames, nearestTypes } from '../reading/nearest.js';
import { homeOfFact } from '../reading/syntax-words.js';
import type { LoweringContext } from './context.js';
import { lowerEnd, lowerPlace, type TypeLookup } from './ends.js';
import { readCount, readFigure, sizeOf } from './figures.js';
import { placeOfBox } from './line-side.js';
import { isDate, lowerFactsOf } from './part-facts.js';

export function lowerPlaceStatement(context: LoweringContext, node: PlaceNode): Place {
  context.put(at.place(node.name), node, 'name');
  const flags = new Set<string>();
  let temperature: number | undefined;
  for (const fact of node.facts) {
    if (fact.$type === 'Flag') {
      const word = fact.word.toLowerCase();
      if (word === 'outdoor' || word === 'wet' || word === 'concealed') flags.add(word);
      else unfitFlag(context, fact, node.name);
    } else if (fact.$type === 'Temperature') {
      temperature = readFigure(context, fact.figure, ['temperature'], "a place's temperature")?.least;
    } else if (fact.$type === 'Installed') isDate(context, fact.date, fact);
  }
  const within = lowerPlace(context, node, 'within');
  return {
    name: node.name,
    ...(node.words === undefined ? {} : { words: node.words }),
    ...(within === undefined ? {} : { within }),
    outdoor: flags.has('outdoor'),
    wet: flags.has('wet'),
    concealed: flags.has('concealed'),
    ...(temperature === undefined ? {} : { temperature }),
  };
}

function unfitFlag(
  context: LoweringContext,
  fact: Extract<PlaceNode['facts'][number], { $type: 'Flag' }>,
  of: string,
): void {
  const home = homeOfFact(fact.word.toLowerCase());
  const mend = home === undefined ? {} : { mend: home };
  const facts = { what: 'unknown-fact', found: fact.word, of: `\`${of}\``, nearest: [], ...mend } as const;
  context.report('syntax', facts, context.site(fact));
}

/** A box is a place: what stands in it is its contents. */
export function lowerBox(context: LoweringContext, node: Box): Place {
  const within = placeOfBox(context, node);
  return { name: node.name, ...(within === undefined ? {} : { within }), outdoor: false, wet: false, concealed: false };
}

/** The type of a supply or device, if there is one of that name and kind; its use is noted or its absence reported. */
export function findPartType(
  context: LoweringContext,
  node: Supply | Device,
  partTypes: ReadonlyMap<string, PartType>,
): PartType | undefined {
  const kind = node.$type === 'Supply' ? 'supply' : 'device';
  const site = context.site(node, 'type');
  const symbol = context.names.find('type', node.type);
  if (symbol) context.names.refer(symbol, site);
  const type = partTypes.get(node.type);
  if (type?.of === kind) return type;
  if (context.unreadNames.has(node.type)) return undefined;
  const isA = type?.of ?? (symbol?.kind === 'cable type' ? ('cable' as const) : undefined);
  const known = [...partTypes.values()].filter((one) => one.of === kind).map((one) => one.name);
  const nearest = isA ? [] : nearestTypes(node.type, known);
  const facts = { type: node.type, kind, nearest, ...(isA ? { isA } : {}) } as const;
  context.report('unknown-type', facts, site, { instead: nearest });
  return undefined;
}

export function lowerPart(context: LoweringContext, node: Supply | Device, types: TypeLookup): Part {
  const kind = node.$type === 'Supply' ? 'supply' : 'device';
  context.putLater(at.part(node.name), (put) => {
    put(at.part(node.name), node, 'name');
    put(at.fact(node.name, 'type'), node, 'type');
    if (node.place !== undefined) put(at.fact(node.name, 'place'), node, 'place');
  });
  const type = findPartType(context, node, types.partTypes);
  const contacts = type && contactsOf(type);
  const place = lowerPlace(context, node, 'place');
  const owner = {
    kind,
    words: node.name,
    part: node.name,
    ...(contacts ? { contacts } : {}),
    ...(type ? { type } : {}),
    isOfTheOther: !type && types.partTypes.has(node.type),
  } as const;
  return {
    name: node.name,
    kind,
    ...(type ? { type: type.name } : {}),
    ...(place === undefined ? {} : { place }),
    facts: lowerFactsOf(context, owner, node),
    lands: lowerLands(context, node, type, types),
  };
}

/** Names of a type's contacts; an unnamed one is called after its terminals. */
export function contactsOf(type: PartType): readonly string[] {
  const names: string[] = [];
  for (const element of type.elements) {
    if (element.kind === 'contact') names.push(element.name ?? `${element.a}-${element.b}`);
  }
  return names;
}

export function lowerLands(
  context: LoweringContext,
  node: Supply | Device,
  type: PartType | undefined,
  types: TypeLookup,
): Part['lands'] {
  const lands: { terminal: string; on: NonNullable<ReturnType<typeof lowerEnd>> }[] = [];
  for (const fact of node.facts) {
    if (fact.$type !== 'Lands') continue;
    const on = lowerEnd(context, fact.on, types);
    const terminals = type && context.names.terminalsOf(type.name);
    const symbol = terminals?.get(fact.terminal);
    const site = context.site(fact, 'terminal');
    if (symbol) context.names.refer(symbol, site);
    else if (terminals) {
      const has = [...terminals.keys()];
      const nearest = nearestNames(fact.terminal, has);
      context.report('unknown-terminal', { part: node.name, terminal: fact.terminal, has, nearest }, site, {
        instead: nearest,
      });
    }
    if (!on || (terminals && !symbol)) continue;
    context.put(at.lands(node.name, lands.length), fact);
    lands.push({ terminal: fact.terminal, on });
  }
  return lands;
}

export function lowerSplice(context: LoweringContext, node: SpliceNode): Splice {
  context.put(at.part(node.name), node, 'name');
  if (node.place !== undefined) context.put(at.fact(node.name, 'place'), node, 'place');
  const notes: string[] = [];
  let holds: Splice['holds'];
  for (const fact of node.facts) {
    if (fact.$type === 'Note') notes.push(fact.words);
    else if (fact.$type === 'Installed') isDate(context, fact.date, fact);
    else if (fact.$type === 'Holds') {
      const [least, most] =
        fact.dashed === undefined ? [fact.least!, fact.most ?? fact.least!] : fact.dashed.split(/\s?[-\u2013]\s?/);
      const of = 'how many conductors a splice holds';
      const from = readCount(context, least!, context.site(fact), of, 1, 100);
      const to = from === undefined ? undefined : readCount(context, most!, context.site(fact), of, from, 100);
      const size = readFigure(context, fact.size, ['gauge', 'area', 'length'], "a conductor's size");
      if (from !== undefined && to !== undefined) {
        holds = { least: from, most: to, ...(size ? { size: sizeOf(size.measure, size.least) } : {}) };
      }
    }
  }
  const place = lowerPlace(context, node, 'place');
  return { name: node.name, ...(place === undefined ? {} : { place }), ...(holds ? { holds } : {}), notes };
}
