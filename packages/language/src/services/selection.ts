/** What a selection grows to, step by step: word, end, line, braces, statement, file. */

import type { SelectionRange } from 'vscode-languageserver';
import type { WiringDocument } from '../reading/document.js';
import { scan, type Token } from './scan.js';
import { stretchOfSlice } from './statement-at.js';

interface Stretch {
  readonly offset: number;
  readonly end: number;
}

export function selectionRange(document: WiringDocument, offset: number): SelectionRange {
  const whole = { offset: 0, end: document.text.length };
  const statement = document.slices
    .map(stretchOfSlice)
    .find((stretch) => stretch && stretch.offset <= offset && offset <= stretch.end);
  const steps = [whole, ...(statement ? [statement, ...within(document.text, statement, offset)] : [])];
  let range: SelectionRange = { range: document.rangeAt(whole.offset, whole.end) };
  let last: Stretch = whole;
  for (const step of steps) {
    const grows = step.offset >= last.offset && step.end <= last.end && step.end - step.offset < last.end - last.offset;
    // Beside a quote or a comment something narrower can leave the place out.
    const holds = step.offset <= offset && offset <= step.end;
    if (!grows || !holds) continue;
    range = { range: document.rangeAt(step.offset, step.end), parent: range };
    last = step;
  }
  return range;
}

/** From the widest to the narrowest. */
function within(text: string, statement: Stretch, offset: number): Stretch[] {
  const lines = scan(text.slice(statement.offset, statement.end));
  const tokens = lines.flatMap((line) => line.tokens);
  const at = offset - statement.offset;
  const line = lines.find(({ start, end }) => start <= at && at <= end);
  const stretches = [...bracesAround(tokens, at), ...lineAround(line?.tokens ?? []), ...wordsAround(tokens, at)];
  return stretches.map((one) => ({ offset: one.offset + statement.offset, end: one.end + statement.offset }));
}

/** Each pair of braces around a place, with the braces and without them. */
function bracesAround(tokens: readonly Token[], at: number): Stretch[] {
  const open: Token[] = [];
  const pairs: Stretch[] = [];
  for (const token of tokens) {
    if (token.kind !== 'mark') continue;
    if (token.text === '{') open.push(token);
    if (token.text !== '}') continue;
    const first = open.pop();
    if (first && first.start <= at && at <= token.end) pairs.push({ offset: first.start, end: token.end });
  }
  return pairs.reverse().flatMap((pair) => [pair, { offset: pair.offset + 1, end: pair.end - 1 }]);
}

/** A line without its indentation, then without its comment. */
function lineAround(tokens: readonly Token[]): Stretch[] {
  const code = tokens.filter((token) => token.kind !== 'comment');
  return [tokens, code].flatMap((some) =>
    some.length === 0 ? [] : [{ offset: some[0]!.start, end: some.at(-1)!.end }],
  );
}

/** `hall-chime.trans` as one, then the word alone; of a string also what is between its quotes. */
function wordsAround(tokens: readonly Token[], at: number): Stretch[] {
  const touching = tokens.flatMap((token, index) => (token.start <= at && at <= token.end ? [index] : []));
  const index = touching.find((one) => tokens[one]!.kind === 'word') ?? touching[0];
  const token = index === undefined ? undefined : tokens[index];
  if (!token || index === undefined) return [];
  const isDot = (one: Token | undefined): boolean => one?.text === '.' && one.glued;
  let first = index;
  let last = index;
  if (isDot(tokens[index - 1]) && token.glued) first = index - 2;
  if (isDot(tokens[index + 1]) && tokens[index + 2]?.glued) last = index + 2;
  const chain = { offset: (tokens[first] ?? token).start, end: (tokens[last] ?? token).end };
  const inner = token.kind === 'string' ? [{ offset: token.start + 1, end: token.end - 1 }] : [];
  return [chain, { offset: token.start, end: token.end }, ...inner];
}
