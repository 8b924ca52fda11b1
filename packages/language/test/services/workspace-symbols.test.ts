import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { SymbolKind } from 'vscode-languageserver';
import { readLibrary } from '../../src/read-library.js';
import { parseWiring } from '../../src/reading/document.js';
import { documentSymbols } from '../../src/services/symbols.js';
import { outlineOfText, workspaceSymbols } from '../../src/services/workspace-symbols.js';

const examples = new URL('../../../../examples/', import.meta.url);
const texts = [
  ...readdirSync(examples)
    .filter((name) => name.endsWith('.wiring'))
    .map((name) => readFileSync(new URL(name, examples), 'utf8')),
  ...readLibrary().documents.map((document) => document.text),
  '/* supply in-comment : x\nsupply in-comment-too : x\n*/\r\nsupply a : b\r\n\r\njumper n : a.x to a.y\npigtail a.x to a.y\nPLACE hall "Hall"\n',
];

describe('the outline told from a text', () => {
  it.each(texts)('has the names that the read text has, at their places', (text) => {
    const read = documentSymbols(parseWiring('file:///a.wiring', text))
      .filter(({ kind }) => kind !== SymbolKind.String && kind !== SymbolKind.Array)
      .map(({ name, kind, selectionRange }) => ({ name, kind, range: selectionRange }));
    expect(read.length).toBeGreaterThan(1);
    expect(outlineOfText(text).map(({ name, kind, range }) => ({ name, kind, range }))).toEqual(read);
  });

  it('gives the shortest names that hold the letters in their order first', () => {
    const outlines = [{ uri: 'file:///a', names: outlineOfText('splice hall-joint\nplace hall\nplace attic\n') }];
    const found = workspaceSymbols(outlines, 'hal', (place) => place);
    expect(found.map(({ name, containerName }) => [name, containerName])).toEqual([
      ['hall', 'place'],
      ['hall-joint', 'splice'],
    ]);
  });
});
