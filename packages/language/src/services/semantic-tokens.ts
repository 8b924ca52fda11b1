/** Names by what they are: what no pattern can tell, such as whether a name is one of the shipped library's. */

import { SemanticTokenTypes } from 'vscode-languageserver';
import type { NameKind } from '../lower/names.js';
import type { Reading } from '../read.js';
import { SEMANTIC_LEGEND } from './semantic-legend.js';

const TYPE_OF: Readonly<Record<NameKind, SemanticTokenTypes>> = {
  place: SemanticTokenTypes.namespace,
  box: SemanticTokenTypes.namespace,
  'supply type': SemanticTokenTypes.type,
  'device type': SemanticTokenTypes.type,
  'cable type': SemanticTokenTypes.type,
  supply: SemanticTokenTypes.variable,
  device: SemanticTokenTypes.variable,
  splice: SemanticTokenTypes.variable,
  run: SemanticTokenTypes.variable,
  jumper: SemanticTokenTypes.variable,
  terminal: SemanticTokenTypes.property,
};

const DECLARATION = 1 << 0;
const DEFAULT_LIBRARY = 1 << 1;

/** Line and character from 0, length in UTF-16 units, type and modifiers by the legend. */
export type SemanticToken = readonly [line: number, character: number, length: number, type: number, modifiers: number];

/** Of a stretch of the record's own file, in order of place; of the whole file where none is given. */
export function semanticTokens(
  { names, document }: Reading,
  within: { readonly offset: number; readonly end: number } = { offset: 0, end: Number.POSITIVE_INFINITY },
): SemanticToken[] {
  const tokens: SemanticToken[] = [];
  let last = 0;
  for (const { symbol, declares, offset, end } of names.usesIn(document)) {
    if (offset < last || end <= offset || end < within.offset || offset > within.end) continue;
    const { start } = document.rangeAt(offset, end);
    const type = SEMANTIC_LEGEND.tokenTypes.indexOf(TYPE_OF[symbol.kind]);
    const modifiers = (declares ? DECLARATION : 0) | (symbol.shipped ? DEFAULT_LIBRARY : 0);
    tokens.push([start.line, start.character, end - offset, type, modifiers]);
    last = end;
  }
  return tokens;
}
