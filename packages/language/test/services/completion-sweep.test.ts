// Completion over whole records: every word somebody has to write is offered where it stands, and what is offered there can be read.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { CompletionItemKind } from 'vscode-languageserver';
import { describe, expect, it } from 'vitest';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';
import { complete } from '../../src/services/completion.js';
import { completionRecord } from '../../src/services/completion-record.js';
import { statementEnd, statementStart } from '../../src/services/cursor.js';

const root = new URL('../../../../', import.meta.url).pathname;
const namesIn = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.wiring'))
    .map((name) => join(folder, name));
const files = new Map(
  [...namesIn('examples'), ...namesIn('packages/language/library')].map((name) => [
    `file:///${name}`,
    readFileSync(join(root, name), 'utf8'),
  ]),
);
const document = (uri: string) => {
  const text = files.get(uri);
  return text === undefined ? undefined : parseWiring(uri, text);
};

const readAs = new Map(
  [...files.keys()].map((uri) => [
    uri,
    completionRecord(readRecord(document(uri)!, { document, isInside: () => true })),
  ]),
);

function offeredIn(uri: string, text: string, offset: number) {
  const rangeOf = (start: number, end: number) => ({ start, end }) as never;
  return complete(text, offset, readAs.get(uri)!, { snippets: false, rangeOf });
}

const WORD = /\/\/.*|"[^"\n]*"|\p{L}[\p{L}\p{N}-]*(?:\.[\p{L}\p{N}-]+)?(?:\/\p{L}+)?|\d[\d.]*|[^\s]/gu;

/** Words that are new names, of which nobody but who writes them knows. */
function isNew(line: string, statement: string): boolean {
  const before = line.trimEnd();
  if (/(^| )(place|supply|device|splice|run|jumper|pigtail|box|type|with)$/.test(before)) return true;
  if (/^\s+contact$/.test(before)) return true;
  // A type's terminals, as many as its line names.
  return / type /.test(statement) && /^\s+terminal( [^{}]*,)?$/.test(before);
}

describe('completion', () => {
  it('offers every word of the examples and of the library where it stands', () => {
    const missing: string[] = [];
    let words = 0;
    for (const [uri, text] of files) {
      for (const { 0: word, index } of text.matchAll(WORD)) {
        // What a record says once it has said here.
        if (!/^\p{L}/u.test(word) || /^(wiring|changes)$/.test(word)) continue;
        const eol = /\n|$/.exec(text.slice(index))!.index + index;
        const line = text.slice(text.lastIndexOf('\n', index) + 1, index);
        const statement = text.slice(statementStart(text, index)).split('\n')[0]!;
        if (isNew(line, statement) || /^(note|label)$/.test(line.trim().split(' ')[0]!)) continue;
        // Gauges and colours that no record has named yet.
        if (/\d$|\dG|^\s+conductors|: \d+ $/.test(line) || /^(x|G[\d.]*)$/.test(word)) continue;
        words++;
        const rest = text.slice(index, eol).replace(/\s+/g, ' ').toLowerCase();
        const offered = offeredIn(uri, text.slice(0, index) + text.slice(eol), index);
        const isThere = ({ label }: { label: string }): boolean =>
          label === word || (rest.startsWith(label.toLowerCase()) && !/^[\p{L}\d]/u.test(rest.slice(label.length)));
        if (!offered.some(isThere)) missing.push(`${uri}: ${line}▮${word}`);
      }
    }
    expect(missing).toEqual([]);
    expect(words).toBeGreaterThan(3000);
  });

  it('offers nothing that can not be read where it is put', () => {
    const unread = new Set<string>();
    const tried = new Set<string>();
    for (const [uri, text] of files) {
      for (const { 0: word, index } of text.matchAll(WORD)) {
        if (/^["/]/.test(word) || / taps /.test(text.slice(text.lastIndexOf('\n', index) + 1, index))) continue;
        const from = statementStart(text, index);
        const line = text.slice(Math.max(from, text.lastIndexOf('\n', index) + 1), index);
        const eol = /\n|$/.exec(text.slice(index))!.index + index;
        for (const item of offeredIn(uri, text, index)) {
          // A word of the notation, or a part to look at, asks for more after it, which only whoever writes it knows.
          if (item.kind === CompletionItemKind.Keyword || item.kind === CompletionItemKind.Variable) continue;
          const kind = `${item.kind} ${item.kind === CompletionItemKind.Property ? item.label : ''} ${line.trim().replace(/[\w.-]+/g, 'n')}`;
          if (tried.has(kind)) continue;
          tried.add(kind);
          const { range, newText } = item.textEdit as unknown as {
            range: { start: number; end: number };
            newText: string;
          };
          const put = newText
            .replace(/""/g, '"a"')
            .replace(/ on $/, ' on a.b')
            .replace(/listed $/, 'listed CL2')
            .replace('together , ', 'together a, b');
          const errors = (now: string): number => parseWiring(uri, now).problems.length;
          const to = Math.max(statementEnd(text, index), eol);
          const before = errors(text.slice(from, to));
          const rest = /^[^\n]*/.exec(text.slice(range.end))![0];
          // With what stood behind it, or in place of it.
          const close = /^[^{]*\}/.test(rest) ? rest.slice(rest.indexOf('}')) : /\{\s*$/.test(rest) ? ' {' : '';
          const ways = [
            text.slice(from, range.start) + put + text.slice(range.end, to),
            text.slice(from, range.start) + put + close + text.slice(range.end + rest.length, to),
          ];
          if (ways.every((way) => errors(way) > before)) unread.add(`${uri}: ${line}▮${put}`);
        }
      }
    }
    expect([...unread]).toEqual([]);
    expect(tried.size).toBeGreaterThan(200);
  });
});
