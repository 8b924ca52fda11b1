/** `device type` and `supply type` statements: terminals, elements and the label's facts. */

import type { PartElement, PartType, Terminal } from '@ohmstead/record';
import type { Contact, Element, PartType as PartTypeNode, TypeFact } from '../generated/ast.js';
import { nearestNames } from '../reading/nearest.js';
import type { LoweringContext } from './context.js';
import { lowerElement } from './elements.js';
import { readCount } from './figures.js';
import { lowerPartFacts } from './part-facts.js';

/** Declares the terminals first, so that elements may stand before them. */
export function lowerPartType(context: LoweringContext, node: PartTypeNode, shipped: boolean): PartType {
  const of = node.of.toLowerCase() as 'supply' | 'device';
  const terminals: Terminal[] = [];
  for (const fact of node.facts)
    if (fact.$type === 'Terminals') terminals.push(...lowerTerminals(context, node, fact, shipped));
  const elements: PartElement[] = [];
  let role: string | undefined;
  const others: TypeFact[] = [];
  const contacts: string[] = [];
  const several = node.facts.filter((fact) => fact.$type === 'Contact').length > 1;
  for (const fact of node.facts) {
    if (fact.$type === 'Element') elements.push(lowerElement(context, node, fact));
    else if (fact.$type === 'Contact') {
      const name = fact.name ?? `${fact.a}-${fact.b}`;
      contacts.push(name);
      elements.push(lowerContact(context, node, fact, fact.name === undefined && !several ? undefined : name));
    } else if (fact.$type === 'Role') role = fact.role;
    else if (fact.$type !== 'Terminals') others.push(fact);
  }
  return {
    name: node.name,
    of,
    ...(node.words === undefined ? {} : { words: node.words }),
    terminals,
    elements,
    facts: lowerPartFacts(context, { kind: of, words: node.name, contacts }, others),
    ...(role === undefined ? {} : { role }),
    shipped,
  };
}

type TerminalsNode = Extract<TypeFact, { $type: 'Terminals' }>;

/** A `holds` that closes the line counts for every terminal of the line that states none. */
function lowerTerminals(
  context: LoweringContext,
  type: PartTypeNode,
  fact: TerminalsNode,
  shipped: boolean,
): Terminal[] {
  const terminals: Terminal[] = [];
  let lineHolds: number | undefined;
  for (const node of fact.terminals) {
    const { again } = context.names.declareTerminal(type.name, node.name, context.site(node, 'name'), shipped);
    if (again) {
      context.report('duplicate-name', { name: node.name, kind: 'terminal' }, context.site(node, 'name'));
      continue;
    }
    let optional = false;
    let holds: number | undefined;
    let lineSide: Terminal['lineSide'];
    for (const mark of node.marks) {
      if (mark.optional) optional = true;
      if (mark.side) lineSide = mark.side.toLowerCase() as Terminal['lineSide'];
      if (mark.holds === undefined) continue;
      holds = readCount(
        context,
        mark.holds,
        context.site(mark, 'holds'),
        'how many conductors a terminal holds',
        1,
        100,
      );
      if (node === fact.terminals.at(-1)) lineHolds = holds;
    }
    terminals.push({
      name: node.name,
      ...(node.words === undefined ? {} : { words: node.words }),
      optional,
      ...(holds === undefined ? {} : { holds }),
      ...(lineSide ? { lineSide } : {}),
    });
  }
  if (lineHolds === undefined) return terminals;
  const shared = lineHolds;
  return terminals.map((terminal) => (terminal.holds === undefined ? { ...terminal, holds: shared } : terminal));
}

/** One of several contacts without a name is called after its terminals: `r-w`. */
function lowerContact(
  context: LoweringContext,
  type: PartTypeNode,
  node: Contact,
  name: string | undefined,
): PartElement {
  for (const property of ['a', 'b', 'c'] as const) {
    if (node[property] !== undefined) ownTerminal(context, type, node, property);
  }
  const flags = new Set(node.flags.map((flag) => flag.toLowerCase()));
  return {
    kind: 'contact',
    a: node.a,
    b: node.b,
    asRated: false,
    ...(name === undefined ? {} : { name }),
    maintained: flags.has('maintained'),
    normallyClosed: flags.has('normally-closed'),
    ...(node.c === undefined ? {} : { restTo: node.c }),
  };
}

/** Notes the use of one of the type's own terminals, or that it has none such. */
export function ownTerminal(
  context: LoweringContext,
  type: PartTypeNode,
  node: Element | Contact,
  property: 'a' | 'b' | 'c',
): void {
  const name = (node as unknown as Record<string, string>)[property]!;
  const terminals = context.names.terminalsOf(type.name);
  const symbol = terminals?.get(name);
  const site = context.site(node, property);
  if (symbol) {
    context.names.refer(symbol, site);
    return;
  }
  const has = [...(terminals?.keys() ?? [])];
  const nearest = nearestNames(name, has);
  if (has.length > 0)
    context.report('unknown-terminal', { part: type.name, terminal: name, has, nearest }, site, { instead: nearest });
  else {
    const facts = { what: 'expected', expected: `A \`terminal\` line in \`${type.name}\`` } as const;
    context.report('syntax', facts, site);
  }
}
