/**
 * A record as lines that are the same however it is laid out and ordered, one fact a line: what `git diff` compares. Made from the text
 * alone, so that a record of any revision has them without the files that it imports.
 */

import type { ReadSlice } from '../reading/parser.js';
import { parseWiring } from '../reading/document.js';
import type { Token } from '../reading/tokens.js';
import { formatText } from './format.js';

/** Statements in order of kind and name, their facts in order of words; comments are left out. */
export function canonicalLines(text: string): readonly string[] {
  const formatted = formatText(text);
  const document = parseWiring('canonical:record', typeof formatted === 'string' ? formatted : text);
  const groups = document.slices.flatMap((slice) => (slice.end > slice.offset ? [linesOf(slice, document.text)] : []));
  return groups.sort((one, other) => compareWords(keyOf(one), keyOf(other))).flat();
}

const ORDER = [
  'wiring',
  'profile',
  'import',
  'changes',
  'place',
  'box',
  'supply',
  'device',
  'cable',
  'splice',
  'run',
  'jumper',
  'pigtail',
  'ground',
  'earth',
  'replace',
  'remove',
  'relocate',
  'move',
  'land',
  'lift',
  'readings',
  'accept',
];

function keyOf([head = '', ...facts]: readonly string[]): string {
  const word = head.split(' ', 1)[0]!;
  const rank = ORDER.indexOf(word);
  return [String(rank < 0 ? ORDER.length : rank).padStart(2, '0'), head, ...facts].join('\n');
}

function compareWords(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}

function linesOf({ tokens, problem, offset, end }: ReadSlice, text: string): readonly string[] {
  // What can't be read is shown as it stands.
  if (problem)
    return text
      .slice(offset, end)
      .split('\n')
      .map((line) => line.trim().replace(/\s+/g, ' '));
  const open = tokens.findIndex(({ image }) => image === '{');
  const head = wordsOf(open < 0 ? tokens : tokens.slice(0, open), text);
  const name = nameIn(head);
  const facts = open < 0 ? [] : factsOf(tokens.slice(open + 1, -1)).map((fact) => wordsOf(fact, text));
  return [
    head,
    ...facts
      .filter((fact) => fact !== '')
      .sort(compareWords)
      .map((fact) => `    ${name}${fact}`),
  ];
}

/** `tx-to-porch: ` before each of its facts, so that a line of a diff tells what it is about. */
function nameIn(head: string): string {
  // A block of readings is known by its day and words.
  if (head.startsWith('readings ')) return `${head.slice('readings '.length)}: `;
  const [, name] = /^\S+ (?:type )?([^\s:]+)/.exec(head) ?? [];
  return name === undefined ? '' : `${name}: `;
}

function factsOf(tokens: readonly Token[]): readonly (readonly Token[])[] {
  const facts: Token[][] = [[]];
  let depth = 0;
  for (const token of tokens) {
    if (token.image === '{') depth++;
    if (token.image === '}') depth--;
    if (depth === 0 && token.tokenType.name === 'LINE_END') facts.push([]);
    else facts.at(-1)!.push(token);
  }
  return facts;
}

/** With one space where the text has any, and without a comma at the end. */
function wordsOf(tokens: readonly Token[], text: string): string {
  let words = '';
  let end: number | undefined;
  for (const { image, startOffset, endOffset, tokenType } of tokens) {
    if (tokenType.name === 'LINE_END') continue;
    const gap = end === undefined ? '' : text.slice(end, startOffset);
    words += `${gap === '' ? '' : ' '}${image.replace(/[ \t]+/g, (spaces) => (image.startsWith('"') ? spaces : ' '))}`;
    end = endOffset! + 1;
  }
  return words.replace(/,$/, '');
}
