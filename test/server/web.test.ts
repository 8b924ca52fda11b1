// The server as a browser has it: in a world without Node, with files that only the editor can read.
import { readFileSync } from 'node:fs';
import { createContext, runInContext } from 'node:vm';
import { build } from 'esbuild';
import { beforeAll, describe, expect, it } from 'vitest';
import type {
  Diagnostic,
  Message,
  NotificationMessage,
  RequestMessage,
  ResponseMessage,
} from 'vscode-languageserver-protocol';
import type { Hover, MarkupContent, WorkspaceEdit, WorkspaceSymbol } from 'vscode-languageserver-types';
import { rangeOf } from './client.js';

const root = new URL('../../', import.meta.url).pathname;
const bell = readFileSync(`${root}examples/as-found-bell.wiring`, 'utf8');
const folder = 'vscode-vfs://store/house';

let bundle: string;
beforeAll(async () => {
  const { outputFiles } = await build({
    entryPoints: [`${root}packages/language/src/server/main-worker.ts`],
    bundle: true,
    write: false,
    platform: 'browser',
    target: 'es2022',
    format: 'iife',
    mainFields: ['module', 'main'],
    conditions: ['import'],
    logLevel: 'error',
  });
  bundle = outputFiles[0]!.text;
});

const eventually = <Value>(read: () => Value) => expect.poll(read, { timeout: 15_000 });

/** A worker's global scope, and the editor at the other end of its messages with a table for a disk. */
class WebEditor {
  readonly asked: string[] = [];
  readonly files: Record<string, string>;
  /** Files are given once this has settled. */
  holdsFiles: Promise<void> = Promise.resolve();
  readonly #listeners: ((event: { data: unknown }) => void)[] = [];
  readonly #answers = new Map<number, (answer: ResponseMessage) => void>();
  readonly #findings = new Map<string, Diagnostic[][]>();
  #next = 0;

  constructor(files: Record<string, string>) {
    this.files = files;
    const scope: Record<string, unknown> = {
      postMessage: (message: Message) => queueMicrotask(() => this.#receive(message)),
      addEventListener: (_: string, listener: (event: { data: unknown }) => void) => this.#listeners.push(listener),
      setTimeout,
      clearTimeout,
      setInterval,
      clearInterval,
      console,
      TextEncoder,
      TextDecoder,
      URL,
      performance,
      queueMicrotask,
    };
    scope['self'] = scope;
    Object.defineProperty(scope, 'onmessage', {
      set: (listener: (event: { data: unknown }) => void) => this.#listeners.push(listener),
    });
    runInContext(bundle, createContext(scope));
  }

  async start(): Promise<void> {
    await this.request('initialize', {
      processId: null,
      rootUri: null,
      workspaceFolders: [{ uri: folder, name: 'house' }],
      capabilities: {},
      initializationOptions: { files: true },
    });
    this.notify('initialized', {});
  }

  open(name: string, text: string): string {
    const uri = `${folder}/${name}`;
    this.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'ohmstead', version: 1, text } });
    return uri;
  }

  findings(uri: string): Diagnostic[][] {
    return this.#findings.get(uri) ?? [];
  }

  notify(method: string, params: unknown): void {
    this.#send({ jsonrpc: '2.0', method, params } as NotificationMessage);
  }

  request<Answer>(method: string, params: unknown): Promise<Answer> {
    const id = ++this.#next;
    return new Promise((resolve, reject) => {
      this.#answers.set(id, ({ result, error }) =>
        error ? reject(new Error(error.message)) : resolve(result as Answer),
      );
      this.#send({ jsonrpc: '2.0', id, method, params } as RequestMessage);
    });
  }

  #send(message: Message): void {
    const data = structuredClone(message);
    for (const listener of this.#listeners) listener({ data });
  }

  #receive(message: Message & Partial<RequestMessage & ResponseMessage>): void {
    const { id, method, params } = message;
    if (method === undefined) this.#answers.get(id as number)?.(message as ResponseMessage);
    else if (method === 'textDocument/publishDiagnostics') {
      const { uri, diagnostics } = params as unknown as { uri: string; diagnostics: Diagnostic[] };
      this.#findings.set(uri, [...this.findings(uri), diagnostics]);
    } else if (id !== undefined && id !== null) {
      const answer = () =>
        this.#send({ jsonrpc: '2.0', id, result: this.#answer(method, params as never) } as ResponseMessage);
      if (method === 'ohmstead/readFile') void this.holdsFiles.then(answer);
      else answer();
    }
  }

  #answer(method: string, { uri }: { uri: string }): unknown {
    if (method === 'ohmstead/listFiles') return { uris: Object.keys(this.files) };
    if (method !== 'ohmstead/readFile') return null;
    this.asked.push(uri);
    return { text: this.files[uri] ?? null };
  }
}

describe('the worker', () => {
  it('answers and gives findings without anything of Node', async () => {
    const editor = new WebEditor({});
    await editor.start();
    const uri = editor.open('bell.wiring', bell.replace('hall-chime.front', 'hall-chime.frint'));
    await expect
      .poll(() => (editor.findings(uri).at(-1) ?? []).map(({ code }) => code), { timeout: 20_000 })
      .toContain('unknown-terminal');
  });

  it('asks the editor for imported files, and for those that they import, and says nothing before they are there', async () => {
    const places = 'place basement\nplace hall\nplace porch { outdoor }\nplace yard-door "Yard door"\n';
    const editor = new WebEditor({
      [`${folder}/lib/all.wiring`]: 'import "places.wiring"\n',
      [`${folder}/lib/places.wiring`]: places,
    });
    await editor.start();
    const uri = editor.open('bell.wiring', bell.replace(places, 'import "lib/all.wiring"\n'));
    await eventually(() => editor.findings(uri).length).toBeGreaterThan(0);
    const errors = editor.findings(uri).map((findings) => findings.filter(({ severity }) => severity === 1));
    expect(errors).toEqual([[]]);
    expect(editor.asked.filter((file) => file.endsWith('.wiring'))).toEqual([
      `${folder}/lib/all.wiring`,
      `${folder}/lib/places.wiring`,
    ]);

    editor.files[`${folder}/lib/places.wiring`] = places.replace('place hall\n', '');
    editor.notify('workspace/didChangeWatchedFiles', {
      changes: [{ uri: `${folder}/lib/places.wiring`, type: 2 }],
    });
    await expect
      .poll(() => (editor.findings(uri).at(-1) ?? []).map(({ code }) => code), { timeout: 20_000 })
      .toContain('unknown-name');
    editor.files[`${folder}/lib/places.wiring`] = places;
    editor.notify('workspace/didChangeWatchedFiles', {
      changes: [{ uri: `${folder}/lib/places.wiring`, type: 2 }],
    });
    await expect
      .poll(() =>
        editor
          .findings(uri)
          .at(-1)
          ?.filter(({ severity }) => severity === 1),
      )
      .toEqual([]);
  });

  it('says that an imported file is missing once the editor has said so, and no longer once it has come', async () => {
    const editor = new WebEditor({});
    await editor.start();
    const uri = editor.open('a.wiring', 'import "b.wiring"\nsplice s in hall\n');
    await expect
      .poll(() => (editor.findings(uri).at(-1) ?? []).map(({ code }) => code), { timeout: 20_000 })
      .toEqual(['import-missing']);
    editor.files[`${folder}/b.wiring`] = 'place hall\n';
    editor.notify('workspace/didChangeWatchedFiles', { changes: [{ uri: `${folder}/b.wiring`, type: 1 }] });
    await expect
      .poll(() => (editor.findings(uri).at(-1) ?? []).map(({ code }) => code), { timeout: 20_000 })
      .not.toContain('import-missing');
  });

  it('has no figures before an imported file has come: it waits a little, then says so', async () => {
    const places = 'place basement\nplace hall\nplace porch { outdoor }\nplace yard-door "Yard door"\n';
    const editor = new WebEditor({ [`${folder}/places.wiring`]: places });
    let give = (): void => {};
    editor.holdsFiles = new Promise((resolve) => {
      give = resolve;
    });
    await editor.start();
    const text = bell.replace(places, 'import "places.wiring"\n');
    const uri = editor.open('bell.wiring', text);
    const hover = async (): Promise<string> => {
      const { start } = rangeOf(text, 'supply bell-tx');
      const position = { line: start.line, character: start.character + 'supply '.length };
      const answer = await editor.request<Hover>('textDocument/hover', { textDocument: { uri }, position });
      return (answer.contents as MarkupContent).value;
    };
    expect(await hover()).toBe('What this record imports is still being read.');
    const waiting = hover();
    give();
    expect(await waiting).toMatch(/ VA of \d+ VA/);
  });

  it('renames and finds in files that nobody opened', async () => {
    const shared = `${folder}/places.wiring`;
    const unopened = `${folder}/other.wiring`;
    const editor = new WebEditor({
      [shared]: 'place attic\n',
      [unopened]: 'import "places.wiring"\nsplice up in attic\n',
    });
    await editor.start();
    const text = 'import "places.wiring"\nsplice joint in attic\n';
    const uri = editor.open('own.wiring', text);
    await eventually(() => editor.findings(uri).length).toBeGreaterThan(0);
    const edit = await editor.request<WorkspaceEdit>('textDocument/rename', {
      textDocument: { uri },
      position: rangeOf(text, 'attic').start,
      newName: 'loft',
    });
    expect(Object.keys(edit.changes!).sort()).toEqual([shared, unopened, uri].sort());
    const found = await editor.request<WorkspaceSymbol[]>('workspace/symbol', { query: 'up' });
    expect(found.map(({ name, location }) => [name, location.uri])).toEqual([['up', unopened]]);
  });

  it('has the levels of the workspace before it says anything', async () => {
    const editor = new WebEditor({ [`${folder}/.ohmstead.json`]: '{ "levels": { "bypass-missing": "off" } }' });
    await editor.start();
    const uri = editor.open('first.wiring', readFileSync(`${root}examples/doorbell-first-try.wiring`, 'utf8'));
    await eventually(() => editor.findings(uri).length).toBeGreaterThan(0);
    for (const findings of editor.findings(uri)) {
      expect(findings.length).toBeGreaterThan(0);
      expect(findings.map(({ code }) => code)).not.toContain('bypass-missing');
    }
  });
});
