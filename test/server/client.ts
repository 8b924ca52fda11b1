/** A language client of a few lines: a child process running the stdio server, spoken to over the real protocol. */

import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-jsonrpc/node';
import type {
  Diagnostic,
  InitializeResult,
  PublishDiagnosticsParams,
  Range,
  TextEdit,
} from 'vscode-languageserver-protocol';
import { readFileSync } from 'node:fs';

const root = new URL('../../', import.meta.url).pathname;

/** Bundles the stdio server into a folder of its own; gives the script's path. */
export async function bundleServer(folder: string): Promise<string> {
  const outfile = join(folder, 'serve.cjs');
  await build({
    stdin: {
      contents: "import { serve } from './packages/language/src/server/main-stdio.ts'; serve();",
      resolveDir: root,
      loader: 'ts',
    },
    outfile,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'cjs',
    mainFields: ['module', 'main'],
    conditions: ['import'],
    logLevel: 'error',
    banner: { js: readFileSync(join(root, 'packages/language/polyfill.mjs'), 'utf8') },
  });
  return outfile;
}

export interface Published extends PublishDiagnosticsParams {
  readonly diagnostics: Diagnostic[];
}

export class Client {
  readonly published: Published[] = [];
  /** What the editor has for the section `ohmstead`. */
  settings: unknown = null;
  private readonly waiting: (() => void)[] = [];
  private readonly versions = new Map<string, number>();
  private readonly texts = new Map<string, string>();

  private constructor(
    private readonly child: ChildProcess,
    readonly connection: MessageConnection,
    readonly folder: string,
  ) {}

  /** Spawns the server and goes through the handshake. */
  static async start(script: string, folder: string): Promise<{ client: Client; initialized: InitializeResult }> {
    const child = spawn(process.execPath, [script], { stdio: ['pipe', 'pipe', 'inherit'] });
    const connection = createMessageConnection(
      new StreamMessageReader(child.stdout!),
      new StreamMessageWriter(child.stdin!),
    );
    const client = new Client(child, connection, folder);
    connection.onNotification('textDocument/publishDiagnostics', (params: Published) => {
      client.published.push(params);
      for (const wake of client.waiting.splice(0)) wake();
    });
    connection.onRequest('client/registerCapability', () => null);
    connection.onRequest('workspace/configuration', (params: { items: unknown[] }) =>
      params.items.map(() => client.settings),
    );
    connection.listen();
    const folderUri = pathToFileURL(folder).toString();
    const initialized = (await connection.sendRequest('initialize', {
      processId: process.pid,
      rootUri: folderUri,
      workspaceFolders: [{ uri: folderUri, name: 'records' }],
      capabilities: {
        textDocument: {
          callHierarchy: {},
          completion: { completionItem: { snippetSupport: true } },
          publishDiagnostics: { relatedInformation: true, versionSupport: true, codeDescriptionSupport: true },
          codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix'] } } },
        },
        workspace: {
          configuration: true,
          didChangeWatchedFiles: { dynamicRegistration: true },
          workspaceEdit: { documentChanges: true },
        },
      },
      initializationOptions: { commands: ['ohmstead.showBudget'] },
    })) as InitializeResult;
    await connection.sendNotification('initialized', {});
    return { client, initialized };
  }

  uriOf(name: string): string {
    return pathToFileURL(join(this.folder, name)).toString();
  }

  write(name: string, text: string): string {
    writeFileSync(join(this.folder, name), text);
    return this.uriOf(name);
  }

  async open(uri: string, text: string): Promise<void> {
    this.versions.set(uri, 1);
    this.texts.set(uri, text);
    await this.connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri, languageId: 'ohmstead', version: 1, text },
    });
  }

  /** Sends the smallest single change that turns the document into `text`, as an editor would. */
  async change(uri: string, text: string): Promise<number> {
    const before = this.texts.get(uri)!;
    const version = this.versions.get(uri)! + 1;
    this.versions.set(uri, version);
    this.texts.set(uri, text);
    let start = 0;
    while (start < before.length && start < text.length && before[start] === text[start]) start++;
    let tail = 0;
    while (tail < before.length - start && tail < text.length - start && before.at(-1 - tail) === text.at(-1 - tail))
      tail++;
    const range = { start: positionAt(before, start), end: positionAt(before, before.length - tail) };
    await this.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [{ range, text: text.slice(start, text.length - tail) }],
    });
    return version;
  }

  text(uri: string): string {
    return this.texts.get(uri)!;
  }

  async close(uri: string): Promise<void> {
    await this.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
  }

  /** The last findings published for a document. */
  findings(uri: string): Diagnostic[] | undefined {
    return this.published.findLast((one) => one.uri === uri)?.diagnostics;
  }

  /** Waits until the last findings published for a document satisfy a condition. */
  async until(
    uri: string,
    holds: (findings: Diagnostic[], version: number | undefined) => boolean,
  ): Promise<Diagnostic[]> {
    const deadline = Date.now() + 10_000;
    for (;;) {
      const last = this.published.findLast((one) => one.uri === uri);
      if (last && holds(last.diagnostics, last.version)) return last.diagnostics;
      const left = deadline - Date.now();
      if (left <= 0)
        throw new Error(`Not so after 10 s: ${JSON.stringify(last?.diagnostics.map((one) => one.message))}`);
      await new Promise<void>((resolve) => {
        const timer = setTimeout(resolve, left);
        this.waiting.push(() => {
          clearTimeout(timer);
          resolve();
        });
      });
    }
  }

  request<Answer>(method: string, params: unknown): Promise<Answer> {
    return this.connection.sendRequest(method, params) as Promise<Answer>;
  }

  async stop(): Promise<void> {
    await this.connection.sendRequest('shutdown');
    const ended = new Promise((resolve) => this.child.once('exit', resolve));
    await this.connection.sendNotification('exit');
    await ended;
    this.connection.dispose();
  }
}

export function scratchFolder(): { folder: string; remove(): void } {
  const folder = mkdtempSync(join(tmpdir(), 'ohmstead-server-'));
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

export function positionAt(text: string, offset: number): { line: number; character: number } {
  const lines = text.slice(0, offset).split('\n');
  return { line: lines.length - 1, character: lines.at(-1)!.length };
}

/** The range of the only place where a piece of text stands. */
export function rangeOf(text: string, piece: string): Range {
  const at = text.indexOf(piece);
  if (at < 0 || text.indexOf(piece, at + 1) >= 0) throw new Error(`${JSON.stringify(piece)} does not stand there once`);
  return { start: positionAt(text, at), end: positionAt(text, at + piece.length) };
}

/** Carries out edits that do not overlap, last first. */
export function applied(text: string, edits: TextEdit[]): string {
  const offset = (position: { line: number; character: number }): number =>
    text
      .split('\n')
      .slice(0, position.line)
      .reduce((sum, line) => sum + line.length + 1, 0) + position.character;
  return [...edits]
    .sort((one, other) => offset(other.range.start) - offset(one.range.start))
    .reduce(
      (now, { range, newText }) => now.slice(0, offset(range.start)) + newText + now.slice(offset(range.end)),
      text,
    );
}
