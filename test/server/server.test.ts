// The language server over a real connection: a child process, standard input and output, the protocol's own messages.
import { spawn } from 'node:child_process';
import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  CodeAction,
  CompletionItem,
  DocumentSymbol,
  Hover,
  Location,
  TextEdit,
} from 'vscode-languageserver-types';
import { applied, bundleServer, Client, positionAt, rangeOf, scratchFolder } from './client.js';

const example = (name: string): string => readFileSync(new URL(`../../examples/${name}`, import.meta.url), 'utf8');
const bell = example('as-found-bell.wiring');
const firstTry = example('doorbell-first-try.wiring');

const scratch = scratchFolder();
let client: Client;
let capabilities: Record<string, unknown>;

beforeAll(async () => {
  const started = await Client.start(await bundleServer(scratch.folder), scratch.folder);
  client = started.client;
  capabilities = started.initialized.capabilities as Record<string, unknown>;
});

afterAll(async () => {
  await client.stop();
  scratch.remove();
});

const errors = (findings: { severity?: number }[]): unknown[] => findings.filter((finding) => finding.severity === 1);

let opened = 0;
async function open(text: string): Promise<string> {
  const uri = client.uriOf(`record-${++opened}.wiring`);
  await client.open(uri, text);
  await client.until(uri, () => true);
  return uri;
}

/** Changes the text and waits for the findings of that very version. */
async function change(uri: string, text: string) {
  const sent = await client.change(uri, text);
  return client.until(uri, (_, version) => version === sent);
}

const at = (uri: string, position: unknown) => ({ textDocument: { uri }, position });

describe('findings', () => {
  it('are none in a clean record, one for a wrong terminal, and none again once it is mended', async () => {
    const uri = await open(bell);
    expect(errors(client.findings(uri)!)).toEqual([]);
    const broken = bell.replace('hall-chime.front', 'hall-chime.frint');
    const found = errors(await change(uri, broken)) as { code: string; message: string; range: unknown }[];
    expect(found.map(({ code }) => code)).toEqual(['unknown-terminal']);
    expect(found[0]!.range).toEqual(rangeOf(broken, 'frint'));
    expect(found[0]!.message).toContain('`front`');
    expect(errors(await change(uri, bell))).toEqual([]);
    await client.close(uri);
    await client.until(uri, (findings, version) => findings.length === 0 && version === undefined);
  });

  it('carry their code, a link to its page and where else to look', async () => {
    const uri = await open(firstTry);
    const findings = client.findings(uri)!;
    expect(errors(findings).length).toBeGreaterThan(0);
    for (const finding of findings) {
      expect(finding.source).toBe('ohmstead');
      expect(finding.codeDescription?.href).toBe(`ohmstead-library:/checks/${finding.code}.md`);
    }
  });

  it('of other circuits stand while a statement cannot be read', async () => {
    const other = firstTry
      .replace(/wiring .*\nprofile .*\n/, '')
      .replace(/\b(basement|hall|porch|bell-tx|hall-chime|porch-cam|joist-joint|tx-to-hall|tx-to-porch)\b/g, 'b-$1');
    const both = `${bell}\n${other}`;
    const uri = await open(both);
    const before = errors(client.findings(uri)!) as { code: string; message: string }[];
    expect(before.length).toBeGreaterThan(0);
    const half = both.replace('splice porch-return in basement', 'splice porch-return in basement {{ red');
    const after = errors(await change(uri, half)) as { code: string; message: string }[];
    expect(after.filter(({ code }) => code === 'syntax')).toHaveLength(1);
    for (const { message } of before) expect(after.map((one) => one.message)).toContain(message);
  });

  it('that were accepted come with the reason', async () => {
    const uri = await open(`${firstTry}\naccept supply-too-small because "Changed next week."\n`);
    const { findings } = await client.request<{ findings: { code: string; accepted?: unknown }[] }>('ohmstead/budget', {
      uri,
    });
    const accepted = findings.filter(({ code }) => code === 'supply-too-small');
    expect(accepted.map((finding) => finding.accepted)).toEqual([{ because: 'Changed next week.' }]);
  });

  it('settle on the last of a burst of edits', async () => {
    const uri = await open(bell);
    const before = client.published.length;
    let text = bell;
    let version = 0;
    for (let index = 0; index < 21; index++) {
      text = bell.replace('9 m {', `9${'.'.repeat(index > 0 ? 1 : 0)}${'1'.repeat(index)} m {`);
      version = await client.change(uri, text);
    }
    version = await client.change(uri, bell.replaceAll('hall-chime.front', 'hall-chime.frint'));
    const found = errors(await client.until(uri, (_, seen) => seen === version)) as { code: string }[];
    expect(found.map(({ code }) => code)).toEqual(['unknown-terminal']);
    expect(client.published.length - before).toBeLessThan(22);
  });

  it('follow an imported file that is deleted and comes back outside the editor', async () => {
    const shared = 'place basement\nplace hall\nplace porch { outdoor }\nplace yard-door "Yard door"\n';
    const sharedUri = client.write('places.wiring', shared);
    const text = bell.replace(shared, 'import "places.wiring"\n');
    expect(text).not.toBe(bell);
    const uri = await open(text);
    expect(errors(client.findings(uri)!)).toEqual([]);
    rmSync(join(scratch.folder, 'places.wiring'));
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: sharedUri, type: 3 }],
    });
    const found = errors(await client.until(uri, (findings) => errors(findings).length > 0)) as { code: string }[];
    expect(found.map(({ code }) => code)).toContain('import-missing');
    client.write('places.wiring', shared);
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: sharedUri, type: 1 }],
    });
    await client.until(uri, (findings) => errors(findings).length === 0);
  });

  it('follow an imported file that is edited in the editor and not saved', async () => {
    const sharedUri = client.write('rooms.wiring', 'place basement\nplace hall\n');
    const uri = await open('import "rooms.wiring"\nsplice joint in hall\n');
    expect(client.findings(uri)!.filter(({ code }) => code === 'unknown-name')).toEqual([]);
    await client.open(sharedUri, 'place basement\nplace landing\n');
    await client.until(uri, (findings) => findings.some(({ code }) => code === 'unknown-name'));
    await client.close(sharedUri);
    await client.until(uri, (findings) => !findings.some(({ code }) => code === 'unknown-name'));
  });
});

describe('completion', () => {
  const labels = async (uri: string, position: unknown): Promise<string[]> => {
    const items = await client.request<CompletionItem[]>('textDocument/completion', at(uri, position));
    return [...items].sort((one, other) => (one.sortText! < other.sortText! ? -1 : 1)).map((item) => item.label);
  };

  it('after `to` offers the free terminals at the end of the run first, then the others', async () => {
    const text = bell.replace('white  yard-return  to  yard-button.b', 'white  yard-return  to  ');
    const uri = await open(text);
    const offered = await labels(uri, positionAt(text, text.indexOf('white  yard-return  to  ') + 24));
    expect(offered[0]).toBe('yard-button.b');
    expect(offered.indexOf('capped')).toBeGreaterThan(offered.indexOf('yard-button.b'));
    expect(offered).toContain('hall-chime.front');
    expect(offered).toContain('unknown');
  });

  it('offers the colours still free in the cable', async () => {
    const text = bell.replace('    white  yard-return  to  yard-button.b\n', '    \n');
    const uri = await open(text);
    const offered = await labels(uri, positionAt(text, text.lastIndexOf('    \n') + 4));
    expect(offered).toContain('white');
    expect(offered).not.toContain('red');
  });
});

describe('hover', () => {
  const hover = async (uri: string, text: string, piece: string): Promise<string> => {
    const answer = await client.request<Hover | null>(
      'textDocument/hover',
      at(uri, positionAt(text, text.indexOf(piece) + 1)),
    );
    return (answer?.contents as { value: string } | undefined)?.value ?? '';
  };

  it('on a supply gives its load budget', async () => {
    const uri = await open(bell);
    const words = await hover(uri, bell, 'bell-tx :');
    expect(words).toMatch(/19\.8 V/);
    expect(words).toMatch(/while `porch-button` is held \| 1\d\.\d V \| 0\.\d+ A/);
    expect(words).toContain('10 VA');
  });

  it('on a terminal tells what is joined to it', async () => {
    const uri = await open(bell);
    const words = await hover(uri, bell, 'b to joist-joint');
    expect(words).toContain('bell-tx.b');
    expect(words).toContain('`joist-joint`');
  });

  it('on a device, a run, a conductor, a type and a place', async () => {
    const uri = await open(bell);
    expect(await hover(uri, bell, 'hall-chime :')).toMatch(/Rating 16 V AC, 10 VA/);
    expect(await hover(uri, bell, 'tx-to-hall :')).toMatch(/red: bell-tx\.a to hall-chime\.trans \| 0\.\d+ ohm/);
    expect(await hover(uri, bell, 'green  yard-return')).toMatch(/tx-to-hall\.green/);
    expect(await hover(uri, bell, 'two-note-chime')).toMatch(/`trans`/);
    expect(await hover(uri, bell, 'basement\n')).toMatch(/`bell-tx`/);
  });
});

describe('names', () => {
  it('go to their definition, into the shipped library too', async () => {
    const uri = await open(bell);
    const definitions = (position: unknown) => client.request<Location[]>('textDocument/definition', at(uri, position));
    const end = rangeOf(bell, 'hall-chime.trans');
    const part = await definitions(end.start);
    expect(part.map((place) => [place.uri, place.range.start])).toEqual([[uri, rangeOf(bell, 'hall-chime :').start]]);
    const terminal = await definitions(end.end);
    expect(terminal.map((place) => place.uri)).toEqual([expect.stringMatching(/^ohmstead-library:/)]);
    const type = await definitions(rangeOf(bell, 'two-note-chime').start);
    expect(type.map((place) => place.uri)).toEqual([expect.stringMatching(/^ohmstead-library:/)]);
    const { text } = await client.request<{ text: string }>('ohmstead/libraryDocument', { uri: type[0]!.uri });
    const line = text.split('\n')[type[0]!.range.start.line]!;
    expect(line).toContain('device type two-note-chime');
  });

  it('are renamed with all their uses, but for those of the library', async () => {
    const uri = await open(bell);
    const where = at(uri, rangeOf(bell, 'porch-return  to  hall-chime.front').start);
    const edit = await client.request<{ changes: Record<string, TextEdit[]> }>('textDocument/rename', {
      ...where,
      newName: 'porch-splice',
    });
    expect(edit.changes[uri]).toHaveLength(3);
    const refused = client.request('textDocument/rename', {
      ...at(uri, rangeOf(bell, 'two-note-chime').start),
      newName: 'gong',
    });
    await expect(refused).rejects.toThrow(/shipped library/);
    const taken = client.request('textDocument/rename', { ...where, newName: 'hall-chime' });
    await expect(taken).rejects.toThrow(/already the name of a device/);
  });

  it('are renamed in files that are not open as well', async () => {
    const shared = client.write('shared-places.wiring', 'place cellar\nplace attic\n');
    const unopened = client.write('unopened.wiring', 'import "shared-places.wiring"\nsplice up in attic\n');
    const text = 'import "shared-places.wiring"\nsplice joint in attic\n';
    const uri = await open(text);
    const where = at(uri, rangeOf(text, 'attic').start);
    const { changes } = await client.request<{ changes: Record<string, TextEdit[]> }>('textDocument/rename', {
      ...where,
      newName: 'loft',
    });
    expect(Object.keys(changes).sort()).toEqual([shared, unopened, uri].sort());
    const context = { includeDeclaration: false };
    const uses = await client.request<Location[]>('textDocument/references', { ...where, context });
    expect(uses.map((use) => use.uri).sort()).toEqual([unopened, uri].sort());
    const [file] = await client.request<Location[]>('textDocument/definition', at(uri, { line: 0, character: 10 }));
    expect(file?.uri).toBe(shared);
  });

  it('make the outline', async () => {
    const uri = await open(bell);
    const symbols = await client.request<DocumentSymbol[]>('textDocument/documentSymbol', { textDocument: { uri } });
    const run = symbols.find((symbol) => symbol.name === 'tx-to-hall');
    expect(run?.children?.map((child) => child.name)).toEqual(['red', 'white', 'green']);
    expect(symbols.map((symbol) => symbol.name)).toContain('bell-tx');
  });
});

describe('text', () => {
  it('is formatted', async () => {
    const text = bell.replaceAll('    red    ', ' red ').replace(' : ', ':');
    const uri = await open(text);
    const options = { tabSize: 4, insertSpaces: true };
    const edits = await client.request<TextEdit[]>('textDocument/formatting', { textDocument: { uri }, options });
    expect(applied(text, edits)).toBe(bell);
  });

  it('folds at its braces', async () => {
    const uri = await open(bell);
    const folds = await client.request<{ startLine: number; endLine: number }[]>('textDocument/foldingRange', {
      textDocument: { uri },
    });
    const { line } = rangeOf(bell, 'supply bell-tx').start;
    expect(folds).toContainEqual({ startLine: line, endLine: line + 6 });
  });

  it('is mended by a quick fix that makes its finding go', async () => {
    const broken = bell.replace('hall-chime.front', 'hall-chime.frnt');
    const uri = await open(broken);
    const [finding] = client.findings(uri)!.filter(({ code }) => code === 'unknown-terminal');
    const actions = await client.request<CodeAction[]>('textDocument/codeAction', {
      textDocument: { uri },
      range: finding!.range,
      context: { diagnostics: [finding] },
    });
    const mended = applied(broken, actions[0]!.edit!.changes![uri]!);
    expect(mended).toBe(bell);
    expect(errors(await change(uri, mended))).toEqual([]);
  });
});

describe('the pages of the checks', () => {
  it('are served where findings link to, and shown on the code that `accept` names', async () => {
    const uri = await open(firstTry);
    const [finding] = client.findings(uri)!;
    const { text } = await client.request<{ text: string }>('ohmstead/libraryDocument', {
      uri: finding!.codeDescription!.href,
    });
    expect(text).toContain(`# \`${finding!.code}\``);
    const accepting = `${firstTry}\naccept supply-headroom because "Known."\n`;
    const other = await open(accepting);
    const hover = await client.request<Hover>(
      'textDocument/hover',
      at(other, rangeOf(accepting, 'supply-headroom').start),
    );
    expect((hover.contents as { value: string }).value).toContain('# `supply-headroom`');
    const none = await client.request('ohmstead/libraryDocument', { uri: 'ohmstead-library:/checks/no-such.md' });
    expect(none).toEqual({ text: null });
  });
});

describe('the shipped library', () => {
  it('is a document like any other, but for findings and renaming', async () => {
    const uri = 'ohmstead-library:/chimes.wiring';
    const { text } = await client.request<{ text: string }>('ohmstead/libraryDocument', { uri });
    await client.open(uri, text);
    const name = rangeOf(text, 'two-note-chime').start;
    const hover = await client.request<Hover>('textDocument/hover', at(uri, name));
    expect((hover.contents as { value: string }).value).toMatch(/`trans`/);
    const [definition] = await client.request<Location[]>('textDocument/definition', at(uri, name));
    expect(definition).toEqual({ uri, range: rangeOf(text, 'two-note-chime') });
    const symbols = await client.request<DocumentSymbol[]>('textDocument/documentSymbol', { textDocument: { uri } });
    expect(symbols.map((symbol) => symbol.name)).toContain('two-note-chime');
    const record = await open(bell);
    const context = { includeDeclaration: false };
    const uses = await client.request<Location[]>('textDocument/references', { ...at(uri, name), context });
    expect(uses).toContainEqual({ uri: record, range: rangeOf(bell, 'two-note-chime') });
    const renaming = client.request('textDocument/prepareRename', at(uri, name));
    await expect(renaming).rejects.toThrow(/shipped library/);
    expect(client.findings(uri)).toBeUndefined();
    await client.close(uri);
  });
});

describe('the load budget', () => {
  const budget = (uri: string) =>
    client.request<{
      version: number;
      stale: boolean;
      budget: { supplies: { name: string }[] };
      locations: Record<string, Location>;
    }>('ohmstead/budget', { uri });

  it('comes with where everything is declared', async () => {
    const uri = await open(bell);
    const answer = await budget(uri);
    expect(answer.version).toBe(1);
    expect(answer.stale).toBe(false);
    expect(answer.budget.supplies.map(({ name }) => name)).toEqual(['bell-tx']);
    expect(answer.locations['hall-chime']!.uri).toBe(uri);
  });

  it.each([
    ['the text cannot be read', 'supply bell-tx : bell-transformer', 'supply bell-tx bell-transformer'],
    ['a terminal is wrong', 'hall-chime.front', 'hall-chime.frnt'],
    ['a figure has no unit', '16 V AC, 10 VA', '16 V AC, 10'],
  ])('stays the last good one, marked stale, while %s', async (_, from, to) => {
    const uri = await open(bell);
    const good = await budget(uri);
    expect(bell).toContain(from);
    await change(uri, bell.replace(from, to));
    const stale = await budget(uri);
    expect(stale.stale).toBe(true);
    expect(stale.budget).toEqual(good.budget);
  });
});

it('ends when its client is gone', async () => {
  const child = spawn(process.execPath, [join(scratch.folder, 'serve.cjs')], { stdio: ['pipe', 'ignore', 'ignore'] });
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  child.stdin.end();
  expect(await ended).not.toBeNull();
});

it('says what it can do', () => {
  expect(capabilities).toMatchObject({ hoverProvider: true, documentFormattingProvider: true });
});
