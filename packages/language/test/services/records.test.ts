import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { checkRecord } from '../../src/pipeline.js';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';
import { NO_FILES } from '../../src/server/files.js';
import { Records } from '../../src/server/records.js';

const example = (name: string): string =>
  readFileSync(new URL(`../../../../examples/${name}.wiring`, import.meta.url), 'utf8');
const texts = [example('as-found-bell'), example('doorbell-first-try'), example('two-doors-trickle')];
const uri = 'file:///house/bell.wiring';

/** A workspace whose disk is a table. */
function workspace(files: Record<string, string>): { records: Records; files: Record<string, string> } {
  const records = new Records({ read: (one) => files[one], list: () => Object.keys(files) });
  records.setFolders(['file:///house']);
  return { records, files };
}

/** Findings as text, with every file called the same. */
function withoutFiles(findings: unknown): unknown {
  return JSON.parse(JSON.stringify(findings).replace(/file:[^"]*/g, 'file'));
}

describe('Records', () => {
  it('says after any edits what a fresh check of the text says', () => {
    const edit = fc.record({
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      cut: fc.nat(8),
      put: fc.constantFrom('', '5', ' ', '\n', '}', '{', 'a', 'red  ', '"', 'joist-joint', '// '),
    });
    fc.assert(
      fc.property(fc.constantFrom(...texts), fc.array(edit, { minLength: 1, maxLength: 6 }), (text, edits) => {
        const records = new Records(NO_FILES);
        let now = text;
        for (const [index, { at, cut, put }] of edits.entries()) {
          const from = Math.floor(at * now.length);
          now = now.slice(0, from) + put + now.slice(from + cut);
          records.opened(TextDocument.create(uri, 'ohmstead', index, now));
          const kept = records.check(uri)!.record.findings.map(({ fixes: _, ...finding }) => finding);
          const fresh = checkRecord(readRecord(parseWiring(`file:///fresh/${index}.wiring`, now))).findings;
          expect(withoutFiles(kept)).toEqual(withoutFiles(fresh.map(({ fixes: _, ...finding }) => finding)));
        }
      }),
      { numRuns: 25 },
    );
  });

  it('reads a file once until it changes', () => {
    const { records, files } = workspace({ [uri]: 'place a\n' });
    const first = records.reading(uri);
    expect(records.reading(uri)).toBe(first);
    files[uri] = 'place b\n';
    expect(records.reading(uri)).toBe(first);
    records.changedOnDisk([uri]);
    expect(records.reading(uri)?.installation.places.map((place) => place.name)).toEqual(['b']);
  });

  it('prefers the open text over the disk, and the disk again once it is closed', () => {
    const { records } = workspace({ [uri]: 'place disk\n' });
    const places = (): string[] => records.reading(uri)!.installation.places.map((place) => place.name);
    expect(places()).toEqual(['disk']);
    records.opened(TextDocument.create(uri, 'ohmstead', 1, 'place open\n'));
    expect(places()).toEqual(['open']);
    records.closed(uri);
    expect(places()).toEqual(['disk']);
  });

  it('knows which open records a file concerns, also one that is not there yet', () => {
    const { records, files } = workspace({ 'file:///house/types.wiring': 'place hall\n' });
    const other = 'file:///house/other.wiring';
    records.opened(TextDocument.create(uri, 'ohmstead', 1, 'import "types.wiring"\nimport "later.wiring"\n'));
    records.opened(TextDocument.create(other, 'ohmstead', 1, 'place a\n'));
    records.check(uri);
    records.check(other);
    expect(records.concernedBy(['file:///house/types.wiring'])).toEqual([uri]);
    expect(records.concernedBy(['file:///house/later.wiring'])).toEqual([uri]);
    files['file:///house/later.wiring'] = 'place attic\n';
    records.changedOnDisk(['file:///house/later.wiring']);
    expect(records.check(uri)!.record.findings.filter(({ code }) => code === 'import-missing')).toEqual([]);
  });

  it('comes to an end where files import one another', () => {
    const other = 'file:///house/other.wiring';
    const shorted = 'supply tx : bell-transformer\njumper tx.a to tx.b\n';
    const { records } = workspace({
      [uri]: `import "other.wiring"\n${shorted}`,
      [other]: `import "bell.wiring"\n${shorted.replaceAll('tx', 'tx-2')}`,
    });
    expect(records.check(uri)!.record.findings.map(({ code }) => code)).toContain('import-cycle');
    expect(records.check(other)!.record.findings.map(({ code }) => code)).toContain('import-cycle');
  });

  it('imports nothing from outside the workspace', () => {
    const { records } = workspace({ 'file:///elsewhere/a.wiring': 'place a\n' });
    records.opened(TextDocument.create(uri, 'ohmstead', 1, 'import "../elsewhere/a.wiring"\n'));
    expect(records.check(uri)!.record.findings.map(({ code }) => code)).toEqual(['import-outside']);
  });

  it('finds every record of the workspace that a file is part of, unopened ones too', () => {
    const shared = 'file:///house/types.wiring';
    const { records } = workspace({
      [shared]: 'place hall\n',
      [uri]: 'import "types.wiring"\nsplice a in hall\n',
      'file:///house/none.wiring': 'place b\n',
    });
    const found = records.recordsWith(new Set([shared]), ['a']).map((reading) => reading.document.uri);
    expect(found.sort()).toEqual([uri, shared].sort());
  });

  it('knows what a file declares after it was open, changed, saved and closed', () => {
    const { records, files } = workspace({ [uri]: 'place hall\n' });
    const declared = () => records.outlines().flatMap(({ names }) => names.map(({ name }) => name));
    expect(declared()).toEqual(['hall']);
    files[uri] = 'place attic\n';
    records.opened(TextDocument.create(uri, 'ohmstead', 1, files[uri]));
    records.changedOnDisk([uri]);
    records.closed(uri);
    expect(declared()).toEqual(['attic']);
  });

  it('follows a folder that goes and comes back, of whose files nothing is said', () => {
    const places = 'file:///house/shared/places.wiring';
    const { records, files } = workspace({
      [places]: 'place hall\n',
      'file:///house/shared.wiring': 'place attic\n',
      [uri]: 'import "shared/places.wiring"\nsplice a in hall\n',
    });
    records.opened(TextDocument.create(uri, 'ohmstead', 1, files[uri]!));
    const codes = () => records.check(uri)!.record.findings.map(({ code }) => code);
    expect(codes()).toEqual([]);
    const text = files[places]!;
    delete files[places];
    records.changedOnDisk(['file:///house/shared']);
    expect(records.concernedBy(['file:///house/shared'])).toEqual([uri]);
    expect(codes()).toEqual(['import-missing']);
    files[places] = text;
    records.changedOnDisk(['file:///house/shared']);
    expect(records.concernedBy(['file:///house/shared'])).toEqual([uri]);
    expect(codes()).toEqual([]);
    expect(records.concernedBy(['file:///house/share'])).toEqual([]);
  });

  it.each(['untitled:Untitled-1', 'vscode-remote://host/house/a.wiring'])(
    'checks a document that is no file: %s',
    (one) => {
      const records = new Records(NO_FILES);
      records.setFolders(['file:///house']);
      records.opened(TextDocument.create(one, 'ohmstead', 1, 'import "other.wiring"\nplace a\nplace a\n'));
      expect(records.check(one)!.record.findings.map(({ code }) => code)).toContain('duplicate-name');
      expect(records.concernedBy([one])).toHaveLength(1);
    },
  );

  it('keeps the last record that could be read to its end', () => {
    const records = new Records(NO_FILES);
    records.opened(TextDocument.create(uri, 'ohmstead', 1, texts[0]!));
    const good = records.check(uri)!.record;
    records.opened(TextDocument.create(uri, 'ohmstead', 2, texts[0]!.replace('output 16 V', 'output output')));
    expect(records.check(uri)!.record).not.toBe(good);
    expect(records.lastGood(uri)).toBe(good);
  });

  it('says what is wrong once where two files import one another', () => {
    const { records } = workspace({
      [uri]: `import "b.wiring"\n${texts[0]}\njumper joist-joint to porch-return\njumper hall-chime.trans to bell-tx.a\n`,
      'file:///house/b.wiring':
        'import "bell.wiring"\nsplice over\nsplice under\njumper over to under\njumper bell-tx.a to bell-tx.b\n',
    });
    const codes = (file: string): (readonly [string, number])[] =>
      records.check(file)!.record.findings.map(({ code, range }) => [code, range.start.line] as const);
    const atImport = (file: string): string[] => codes(file).flatMap(([code, line]) => (line === 0 ? [code] : []));
    expect(codes('file:///house/b.wiring').map(([code]) => code)).toContain('supply-shorted');
    expect(atImport(uri)).toEqual(['import-cycle']);
    expect(atImport('file:///house/b.wiring')).toEqual(['import-cycle']);
  });

  it('reads the shipped library with all of its files and does not check it', () => {
    const { records } = workspace({});
    const shipped = 'ohmstead-library:/chimes.wiring';
    records.opened(TextDocument.create(shipped, 'ohmstead', 1, 'anything'));
    expect(records.reading(shipped)!.documents.length).toBeGreaterThan(1);
    expect(records.check(shipped)).toBeUndefined();
    expect(records.openUris()).toEqual([]);
  });
});
