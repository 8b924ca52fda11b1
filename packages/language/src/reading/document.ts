/** One file's text as read: its tree, what could not be read and where its lines are. */

import { TextDocument } from 'vscode-languageserver-textdocument';
import type { WiringFile } from '../generated/ast.js';
import { createWiringServices, type WiringServices } from './module.js';
import type { ReadSlice, WiringParseResult } from './parser.js';
import type { SyntaxProblem } from './syntax-problems.js';

/** Lines and characters from 0, characters in UTF-16 units, the end exclusive. */
export interface TextRange {
  readonly start: { readonly line: number; readonly character: number };
  readonly end: { readonly line: number; readonly character: number };
}

export interface WiringDocument {
  readonly uri: string;
  readonly text: string;
  readonly file: WiringFile;
  /** The text's statements in order, with their tokens; also those that could not be read. */
  readonly slices: readonly ReadSlice[];
  readonly problems: readonly SyntaxProblem[];
  rangeAt(offset: number, end: number): TextRange;
  offsetAt(position: TextRange['start']): number;
}

let services: WiringServices | undefined;

/** The container that all documents are read with; built when first asked for. */
export function wiringServices(): WiringServices {
  services ??= createWiringServices();
  return services;
}

/** Reads a text; never throws on what it says. */
export function parseWiring(uri: string, text: string): WiringDocument {
  const parsed = wiringServices().wiring.parser.LangiumParser.parse<WiringFile>(text) as WiringParseResult;
  let lines: TextDocument | undefined;
  const document = () => {
    lines ??= TextDocument.create(uri, 'ohmstead', 0, text);
    return lines;
  };
  return {
    uri,
    text,
    file: parsed.value,
    slices: parsed.slices,
    problems: parsed.problems,
    rangeAt: (offset, end) => ({ start: document().positionAt(offset), end: document().positionAt(end) }),
    offsetAt: (position) => document().offsetAt(position),
  };
}
