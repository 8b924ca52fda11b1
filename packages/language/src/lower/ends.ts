/** Names used in statements: found, noted as uses, or reported with the nearest known ones. */

import type { End, Landing, PartType } from '@ohmstead/record';
import type { AstNode } from 'langium';
import type { End as EndNode, Landing as LandingNode } from '../generated/ast.js';
import { nearestNames } from '../reading/nearest.js';
import type { LoweringContext } from './context.js';
import type { NameKind, NameSymbol } from './names.js';

/** Where the types of parts are looked up. */
export interface TypeLookup {
  readonly partTypes: ReadonlyMap<string, PartType>;
  /** The type's name of each supply and device that has one. */
  readonly typeOfPart: ReadonlyMap<string, string>;
}

/** A place's name, or undefined where there is none such. */
export function lowerPlace(context: LoweringContext, node: AstNode, property: string): string | undefined {
  const name = (node as unknown as Record<string, string | undefined>)[property];
  if (name === undefined) return undefined;
  const box = context.names.find('part', name);
  const symbol = context.names.find('place', name) ?? (box?.kind === 'box' ? box : undefined);
  if (symbol) {
    context.names.refer(symbol, context.site(node, property));
    return name;
  }
  const places = [...context.names.names('place')].map((place) => place.name);
  unknownName(context, node, property, name, 'place', places);
  return undefined;
}

export function unknownName(
  context: LoweringContext,
  node: AstNode,
  property: string,
  name: string,
  kind: string,
  known: readonly string[],
): void {
  if (context.unreadNames.has(name)) {
    context.breakStatement();
    return;
  }
  const meant = kind === 'part or splice' ? MEANT_ENDS[name.toLowerCase()] : undefined;
  const nearest = meant === undefined ? nearestNames(name, known) : [meant];
  const isA = meant === undefined ? otherKind(context, name) : undefined;
  const has = kind === 'profile' ? { has: known } : {};
  const facts = { name, kind, nearest, ...(isA === undefined ? {} : { isA }), ...has };
  const missing = kind === 'place' && isA === undefined ? { missingPlace: name } : {};
  context.report('unknown-name', facts, context.site(node, property), { instead: nearest, ...missing });
}

/** Other words for a conductor's end that is landed nowhere. */
const MEANT_ENDS: Readonly<Record<string, string>> = {
  cap: 'capped',
  wirenut: 'capped',
  open: 'capped',
  nothing: 'capped',
  unused: 'spare',
  nc: 'spare',
  none: 'spare',
};

/** What else the record calls by that name. */
function otherKind(context: LoweringContext, name: string): string | undefined {
  for (const space of ['part', 'place', 'type'] as const) {
    const symbol = context.names.find(space, name);
    if (symbol) return symbol.kind;
  }
  return undefined;
}

const landable: ReadonlySet<NameKind> = new Set<NameKind>(['supply', 'device', 'splice']);

/** A part's terminal or a splice; undefined, with the reason reported, where the text names neither. */
export function lowerEnd(context: LoweringContext, node: EndNode, types: TypeLookup): End | undefined {
  const symbol = context.names.find('part', node.part);
  if (!symbol || !landable.has(symbol.kind)) {
    const known = [...context.names.names('part')].filter((one) => landable.has(one.kind)).map((one) => one.name);
    unknownName(context, node, 'part', node.part, 'part or splice', known);
    return undefined;
  }
  context.names.refer(symbol, context.site(node, 'part'));
  if (symbol.kind === 'splice') return spliceEnd(context, node);
  const type = types.typeOfPart.get(node.part);
  const terminals = type === undefined ? undefined : context.names.terminalsOf(type);
  if (!terminals || context.unreadNames.has(type!)) {
    return node.terminal === undefined ? undefined : { part: node.part, terminal: node.terminal };
  }
  return terminalEnd(context, node, terminals);
}

function spliceEnd(context: LoweringContext, node: EndNode): End | undefined {
  if (node.terminal === undefined) return { part: node.part };
  const facts = { part: node.part, terminal: node.terminal, has: [], nearest: [] };
  context.report('unknown-terminal', facts, context.site(node), { instead: [node.part] });
  return undefined;
}

function terminalEnd(
  context: LoweringContext,
  node: EndNode,
  terminals: ReadonlyMap<string, NameSymbol>,
): End | undefined {
  const { part, terminal } = node;
  const symbol = terminal === undefined ? undefined : terminals.get(terminal);
  if (symbol && terminal !== undefined) {
    context.names.refer(symbol, context.site(node, 'terminal'));
    context.noteRightTerminal(part);
    return { part, terminal };
  }
  const has = [...terminals.keys()];
  if (has.length === 0) {
    const facts = { what: 'expected', expected: `A part that has terminals`, found: part } as const;
    context.report('syntax', facts, context.site(node));
  } else if (terminal === undefined) {
    context.report('unknown-terminal', { part, has, nearest: [] }, context.site(node), {
      instead: has.map((name) => `${part}.${name}`),
    });
  } else {
    const nearest = nearestNames(terminal, has);
    const instead = nearest.length > 0 ? nearest : has.length <= 4 ? has : [];
    context.report('unknown-terminal', { part, terminal, has, nearest }, context.site(node, 'terminal'), { instead });
  }
  return undefined;
}

/** Where a conductor's end is; `unknown` where the text names no place that there is, so that nothing more is said about it. */
export function lowerLanding(
  context: LoweringContext,
  node: LandingNode | undefined,
  types: TypeLookup,
): Landing | undefined {
  if (!node) return undefined;
  if (node.capped) return { kind: 'capped' };
  if (node.unknown || !node.end) return { kind: 'unknown' };
  const end = lowerEnd(context, node.end, types);
  return end ? { kind: 'on', end } : { kind: 'unknown' };
}
