// Services of the editor over a real connection, each with an exact answer to what a person does.
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  CodeLens,
  DocumentHighlight,
  DocumentLink,
  InlayHint,
  SelectionRange,
  SemanticTokens,
  SemanticTokensDelta,
  SignatureHelp,
  TextEdit,
  WorkspaceEdit,
  WorkspaceSymbol,
} from 'vscode-languageserver-types';
import { applied, bundleServer, Client, positionAt, rangeOf, scratchFolder } from './client.js';

const example = (name: string): string => readFileSync(new URL(`../../examples/${name}`, import.meta.url), 'utf8');
const bell = example('as-found-bell.wiring');
const firstTry = example('doorbell-first-try.wiring');

const scratch = scratchFolder();
let client: Client;
let legend: { tokenTypes: string[]; tokenModifiers: string[] };

beforeAll(async () => {
  const started = await Client.start(await bundleServer(scratch.folder), scratch.folder);
  client = started.client;
  legend = started.initialized.capabilities.semanticTokensProvider!.legend;
});

afterAll(async () => {
  await client.stop();
  scratch.remove();
});

/** A busy machine takes its time. */
const eventually = <Value>(read: () => Value) => expect.poll(read, { timeout: 15_000 });

let opened = 0;
async function open(text: string): Promise<string> {
  const uri = client.uriOf(`services-${++opened}.wiring`);
  await client.open(uri, text);
  await client.until(uri, () => true);
  return uri;
}

const at = (uri: string, position: unknown) => ({ textDocument: { uri }, position });

describe('highlighting by meaning', () => {
  const words = (text: string, data: readonly number[]): string[] => {
    const lines = text.split('\n');
    const said: string[] = [];
    let [line, character] = [0, 0];
    for (let index = 0; index < data.length; index += 5) {
      const [down, right, length, type, modifiers] = data.slice(index, index + 5) as [
        number,
        number,
        number,
        number,
        number,
      ];
      character = down === 0 ? character + right : right;
      line += down;
      const marks = legend.tokenModifiers.filter((_, bit) => modifiers & (1 << bit));
      said.push([lines[line]!.slice(character, character + length), legend.tokenTypes[type], ...marks].join(' '));
    }
    return said;
  };

  it('tells places, types, parts and terminals apart, and what the library has', async () => {
    const text = 'place hall\ndevice chime : two-note-chime in hall\njumper chime.trans to chime.front\n';
    const uri = await open(text);
    const tokens = await client.request<SemanticTokens>('textDocument/semanticTokens/full', { textDocument: { uri } });
    expect(words(text, tokens.data)).toEqual([
      'hall namespace declaration',
      'chime variable declaration',
      'two-note-chime type defaultLibrary',
      'hall namespace',
      'chime variable',
      'trans property defaultLibrary',
      'chime variable',
      'front property defaultLibrary',
    ]);
    const range = { start: { line: 2, character: 0 }, end: { line: 3, character: 0 } };
    const part = await client.request<SemanticTokens>('textDocument/semanticTokens/range', {
      textDocument: { uri },
      range,
    });
    expect(words(text, part.data)).toHaveLength(4);
  });

  it('sends only what changed', async () => {
    const uri = await open(bell);
    const whole = await client.request<SemanticTokens>('textDocument/semanticTokens/full', { textDocument: { uri } });
    const text = bell.replace('place yard-door', 'place attic\nplace yard-door');
    await client.change(uri, text);
    const delta = await client.request<SemanticTokensDelta>('textDocument/semanticTokens/full/delta', {
      textDocument: { uri },
      previousResultId: whole.resultId,
    });
    const data = [...whole.data];
    for (const { start, deleteCount, data: put } of [...delta.edits].reverse())
      data.splice(start, deleteCount, ...(put ?? []));
    const fresh = await client.request<SemanticTokens>('textDocument/semanticTokens/full', { textDocument: { uri } });
    expect(data).toEqual(fresh.data);
    expect(delta.edits.reduce((sum, edit) => sum + (edit.data?.length ?? 0), 0)).toBeLessThan(whole.data.length / 2);
  });
});

describe('selection', () => {
  it('grows from the word to the end, the line, the braces, the statement and the file', async () => {
    const uri = await open(bell);
    const positions = [positionAt(bell, bell.indexOf('hall-chime.trans') + 13)];
    const [range] = await client.request<SelectionRange[]>('textDocument/selectionRange', {
      textDocument: { uri },
      positions,
    });
    const steps: string[] = [];
    for (let step: SelectionRange | undefined = range; step; step = step.parent) {
      const { start, end } = step.range;
      steps.push(textBetween(bell, start, end));
    }
    const run = bell.slice(bell.indexOf('run tx-to-hall'), bell.indexOf('\n\nrun tx-to-porch'));
    const braces = run.slice(run.indexOf('{'));
    expect(steps).toEqual([
      'trans',
      'hall-chime.trans',
      'red    bell-tx.a     to  hall-chime.trans',
      braces.slice(1, -1),
      braces,
      run,
      bell,
    ]);
  });
});

describe('figures in the text', () => {
  it('stand above a supply: what is drawn at worst', async () => {
    const uri = await open(bell);
    const [lens] = await client.request<CodeLens[]>('textDocument/codeLens', { textDocument: { uri } });
    expect(lens!.range).toEqual(
      rangeOf(bell, 'bell-tx :') && { ...rangeOf(bell, 'bell-tx :'), end: expect.anything() },
    );
    const { command } = await client.request<CodeLens>('codeLens/resolve', lens);
    expect(command!.title).toMatch(/^\d+(\.\d)? VA of 10 VA, worst while porch-button and yard-button are held$/);
    expect(command!.command).toBe('ohmstead.showBudget');
  });

  it('are shown at the ends of conductors once they are wanted', async () => {
    const uri = await open(bell);
    const range = { start: { line: 0, character: 0 }, end: positionAt(bell, bell.length) };
    const hints = () => client.request<InlayHint[]>('textDocument/inlayHint', { textDocument: { uri }, range });
    expect(await hints()).toEqual([]);
    client.settings = { inlayHints: { volts: true } };
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    await eventually(async () => (await hints()).length).toBeGreaterThan(0);
    const shown = await hints();
    const chime = shown.find(
      ({ position }) =>
        position.line === rangeOf(bell, 'hall-chime.front').end.line &&
        position.character === rangeOf(bell, 'hall-chime.front').end.character,
    );
    expect(chime!.label).toMatch(/^1[4-9]\.\d V$/);
    expect((chime!.tooltip as { value: string }).value).toContain('while `porch-button` is held');
    client.settings = null;
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    await eventually(async () => (await hints()).length).toBe(0);
  });
});

describe('levels', () => {
  const codes = (uri: string) => client.findings(uri)!.map(({ code, severity }) => [code, severity]);
  const place = 'place hall\nplace attic\nplace hall\nrun spare : 18/2 from hall to attic\n';

  it('are those that somebody has set, in the workspace or over it', async () => {
    const uri = await open(firstTry);
    const before = codes(uri);
    expect(before).toContainEqual(['bypass-missing', 2]);
    const file = client.write('.ohmstead.json', '{ "levels": { "bypass-missing": "off" } }');
    const changed = { changes: [{ uri: file, type: 1 }] };
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', changed);
    await eventually(() => codes(uri)).toEqual(before.filter(([code]) => code !== 'bypass-missing'));
    client.settings = { levels: { 'bypass-missing': 'hint' } };
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    await eventually(() => codes(uri)).toContainEqual(['bypass-missing', 4]);
    client.settings = null;
    client.write('.ohmstead.json', '{}');
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', changed);
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    await eventually(() => codes(uri)).toEqual(before);
  });

  it('of what keeps a record from being read stay', async () => {
    client.settings = { levels: { 'duplicate-name': 'off' } };
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    const uri = await open(place);
    expect(codes(uri)).toContainEqual(['duplicate-name', 1]);
    client.settings = null;
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
  });
});

describe('the signature of an element', () => {
  it('lists what can stand in its braces and marks what is being written', async () => {
    const text = 'device type gong {\n    terminal a, b\n    coil a to b { as rated, power- }\n}\n';
    const uri = await open(text);
    const help = await client.request<SignatureHelp>(
      'textDocument/signatureHelp',
      at(uri, positionAt(text, text.indexOf('power-') + 6)),
    );
    const [signature] = help.signatures;
    expect(signature!.label).toMatch(/^coil a to b \{ volts, VA, as rated, power-factor, rings from, /);
    const [from, to] = signature!.parameters![help.activeParameter!]!.label as [number, number];
    expect(signature!.label.slice(from, to)).toBe('power-factor');
    expect(await client.request('textDocument/signatureHelp', at(uri, { line: 1, character: 6 }))).toBeNull();
  });

  it('marks its own figures by their place, and the taps while they are listed', async () => {
    const text = `device type dropper {\n    terminal a, b\n    resistor a to b { 25 ohm, 10 W }\n}\n
supply type tapped {\n    terminal 0, 8, 16\n    winding 0 to 16 { taps 0, 8, 16 V }\n}\n`;
    const uri = await open(text);
    const marked = async (words: string): Promise<string> => {
      const position = positionAt(text, text.indexOf(words) + words.length);
      const help = await client.request<SignatureHelp>('textDocument/signatureHelp', at(uri, position));
      const [from, to] = help.signatures[0]!.parameters![help.activeParameter!]!.label as [number, number];
      return help.signatures[0]!.label.slice(from, to);
    };
    expect(await marked('{ 25')).toBe('ohms');
    expect(await marked('{ 25 ohm')).toBe('ohms');
    expect(await marked('25 ohm, 10')).toBe('watts');
    expect(await marked('taps 0, 8')).toBe('taps');
  });
});

describe('names', () => {
  it('are marked where else they stand in the file', async () => {
    const uri = await open(bell);
    const marks = await client.request<DocumentHighlight[]>(
      'textDocument/documentHighlight',
      at(uri, rangeOf(bell, 'splice porch-return').end),
    );
    expect(marks.map(({ range, kind }) => [range.start.line, kind])).toEqual([
      [rangeOf(bell, 'porch-return  to  hall-chime.front').start.line, 2],
      [rangeOf(bell, 'porch-return  to  porch-button.b').start.line, 2],
      [rangeOf(bell, 'splice porch-return').start.line, 3],
    ]);
  });

  it('of the whole workspace are found by some of their letters, in files that nobody opened too', async () => {
    const unopened = client.write('garage.wiring', 'place garage\nsplice gable-joint in garage\n');
    const open1 = await open('place gable-loft\n');
    const found = await client.request<WorkspaceSymbol[]>('workspace/symbol', { query: 'gabl' });
    expect(found.map(({ name, location }) => [name, location.uri])).toEqual([
      ['gable-loft', open1],
      ['gable-joint', unopened],
    ]);
    expect(await client.request('workspace/symbol', { query: 'gablexyz' })).toEqual([]);
  });

  it('are refused where renaming would be unsafe, with the reason', async () => {
    const uri = await open('place a\nsplice joint in a\nsplice other in a\n');
    const rename = (newName: string) =>
      client.request('textDocument/rename', { ...at(uri, { line: 1, character: 8 }), newName });
    await expect(rename('other')).rejects.toThrow(/already the name of a splice/);
    await expect(rename('1st')).rejects.toThrow(/starts with a letter/);
    const nothing = client.request('textDocument/prepareRename', at(uri, { line: 0, character: 1 }));
    await expect(nothing).rejects.toThrow(/no name here/);
  });
});

describe('links', () => {
  it('lead to imported files and to the page of an accepted finding', async () => {
    const shared = client.write('linked.wiring', 'place hall\n');
    const text = 'import "linked.wiring"\nimport "gone.wiring"\naccept drop-high because "Short runs only."\n';
    const uri = await open(text);
    const links = await client.request<DocumentLink[]>('textDocument/documentLink', { textDocument: { uri } });
    expect(links.map(({ range, target }) => [textBetween(text, range.start, range.end), target])).toEqual([
      ['"linked.wiring"', shared],
      ['drop-high', 'ohmstead-library:/checks/drop-high.md'],
    ]);
  });
});

describe('moving a file', () => {
  it('rewrites the imports that reach it and those that it has', async () => {
    const types = client.write('types.wiring', 'place attic\n');
    const moved = client.write(
      'old-name.wiring',
      'import "types.wiring"\nplace loft\nsplice s in loft { photo "pictures/splice.jpg" }\n',
    );
    const user = client.write('user.wiring', '// Ours.\nimport "./old-name.wiring"\nsplice t in loft\n');
    const edit = await client.request<WorkspaceEdit>('workspace/willRenameFiles', {
      files: [{ oldUri: moved, newUri: client.uriOf('sub folder/new-name.wiring') }],
    });
    expect(edit.changes).toEqual({
      [moved]: [
        { range: expect.anything(), newText: '"../types.wiring"' },
        { range: expect.anything(), newText: '"../pictures/splice.jpg"' },
      ],
      [user]: [{ range: expect.anything(), newText: '"sub folder/new-name.wiring"' }],
    });
    const none = await client.request('workspace/willRenameFiles', {
      files: [{ oldUri: client.uriOf('notes.wiring'), newUri: client.uriOf('more-notes.wiring') }],
    });
    expect(none).toBeNull();
    expect(readdirSync(scratch.folder)).toContain('old-name.wiring');
    expect(readFileSync(join(scratch.folder, 'types.wiring'), 'utf8')).toBe('place attic\n');
    expect(types).toMatch(/types\.wiring$/);
  });
});

describe('formatting while typing', () => {
  const options = { tabSize: 4, insertSpaces: true };
  const typed = (uri: string, position: unknown, ch: string) =>
    client.request<TextEdit[]>('textDocument/onTypeFormatting', { ...at(uri, position), ch, options });

  it('lays out the statement that a brace closes and no other', async () => {
    const text = 'place  hall\nsplice   s in hall {\nholds 2..3 of 18 AWG\n}\n';
    const uri = await open(text);
    const edits = await typed(uri, { line: 3, character: 1 }, '}');
    expect(applied(text, edits)).toBe('place  hall\nsplice s in hall {\n    holds 2..3 of 18 AWG\n}\n');
  });

  it('lays out the line that was left and leaves the one that is being written', async () => {
    const text = bell.replace(
      '    red    joist-joint   to  porch-button.a\n',
      '  red joist-joint to porch-button.a\n  \n',
    );
    const uri = await open(text);
    const line = rangeOf(text, '  red joist-joint to porch-button.a').start.line + 1;
    const edits = await typed(uri, { line, character: 2 }, '\n');
    const after = applied(text, edits).split('\n');
    expect(after[line - 1]).toBe('    red    joist-joint   to  porch-button.a');
    expect(after[line]).toBe('  ');
  });

  it('touches only the lines of a range', async () => {
    const text = 'place  a\nplace  b\nplace  c\n';
    const uri = await open(text);
    const range = { start: { line: 1, character: 0 }, end: { line: 1, character: 3 } };
    const edits = await client.request<TextEdit[]>('textDocument/rangeFormatting', {
      textDocument: { uri },
      range,
      options,
    });
    expect(applied(text, edits)).toBe('place  a\nplace b\nplace  c\n');
  });
});

function textBetween(text: string, start: { line: number; character: number }, end: typeof start): string {
  const lines = text.split('\n');
  const offset = ({ line, character }: typeof start): number =>
    lines.slice(0, line).reduce((sum, each) => sum + each.length + 1, 0) + character;
  return text.slice(offset(start), offset(end));
}
