/** What a statement that is being written has in its braces already, told from its text alone. */

import type { PartElement, PartType } from '@ohmstead/record';
import { statementEnd, statementStart } from './cursor.js';
import { scan, type Token } from './scan.js';

/** The terminals and contacts by name that facts of a part can name. */
export interface OwnNames {
  readonly terminals: readonly string[];
  readonly contacts: readonly string[];
  /** Of a supply: whether an output has to say which terminals it is of. */
  readonly tapped: boolean;
}

/** Lines in the statement's outer braces but for the one that holds the offset, each as its tokens. */
function otherFacts(text: string, offset: number): (readonly Token[])[] {
  const from = statementStart(text, offset);
  const facts: Token[][] = [];
  let depth = 0;
  let continued = false;
  for (const line of scan(text.slice(from, statementEnd(text, offset)))) {
    const isHere = line.start <= offset - from && offset - from <= line.end;
    if (!continued) facts.push([]);
    for (const token of line.tokens) {
      if (token.kind === 'comment') continue;
      if (token.text === '{' && depth++ === 0) facts.push([]);
      else if (token.text === '}') depth--;
      else if (depth === 1 && !isHere) facts.at(-1)!.push(token);
      continued = token.text === ',';
    }
  }
  return facts.filter((fact) => fact.length > 0);
}

/** Names in a type's own text: nothing read may know them yet. */
export function namesWritten(text: string, offset: number): OwnNames {
  const terminals: string[] = [];
  const contacts: string[] = [];
  for (const [head, ...rest] of otherFacts(text, offset)) {
    const word = head!.text.toLowerCase();
    if (word === 'terminal') terminals.push(...firstOfItems(rest));
    if (word !== 'contact') continue;
    const to = rest.findIndex((token) => token.text.toLowerCase() === 'to');
    const [name, other] = [rest[0]?.text, rest[to + 1]?.text];
    if (to > 0 && name !== undefined && other !== undefined) contacts.push(to > 1 ? name : `${name}-${other}`);
  }
  const statement = text.slice(statementStart(text, offset), statementEnd(text, offset));
  return { terminals, contacts, tapped: /\btaps\b|\bwinding\b[\s\S]*\bwinding\b/i.test(statement) };
}

export function namesOfType(type: PartType | undefined): OwnNames {
  const named = (element: PartElement): string[] =>
    element.kind === 'contact' ? [element.name ?? `${element.a}-${element.b}`] : [];
  const windings = type?.elements.filter((element) => element.kind === 'winding') ?? [];
  return {
    tapped: windings.length > 1 || windings.some((winding) => winding.taps !== undefined),
    terminals: type?.terminals.map(({ name }) => name) ?? [],
    contacts: type?.elements.flatMap(named) ?? [],
  };
}

/** Colours that other lines of a run's braces have. */
export function coloursWritten(text: string, offset: number): string[] {
  return otherFacts(text, offset).flatMap(firstOfItems);
}

/** `red` of `red a to b`, `red/white` as one. */
function firstOfItems(tokens: readonly Token[]): string[] {
  return tokens.flatMap((token, index) => {
    if (index > 0 && tokens[index - 1]!.text !== ',') return [];
    const striped = tokens[index + 1]?.text === '/' ? tokens[index + 2] : undefined;
    return [striped ? `${token.text}/${striped.text}` : token.text];
  });
}
