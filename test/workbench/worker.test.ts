import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openBrowser } from './browser.js';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const bundle = join(root, 'packages', 'extension', 'dist', 'server.js');
const bell = readFileSync(join(root, 'examples', 'as-found-bell.wiring'), 'utf8');

let browser: Browser;

beforeAll(async () => {
  if (!existsSync(bundle)) throw new Error(`No ${bundle}: npm run build makes it`);
  browser = await openBrowser();
});

afterAll(() => browser?.close());

test('the language server runs in a web worker and asks the page for an imported file', async () => {
  const page = await browser.newPage();
  const places = 'place basement\nplace hall\nplace porch { outdoor }\nplace yard-door "Yard door"\n';
  const text = bell.replace(places, 'import "places.wiring"\n').replace('hall-chime.front', 'hall-chime.frint');
  const { codes, asked, milliseconds } = await page.evaluate(talk, {
    script: readFileSync(bundle, 'utf8'),
    text,
    files: { 'vscode-vfs://store/house/places.wiring': places },
  });
  expect([...asked].sort()).toEqual([
    'vscode-vfs://store/house/.ohmstead.json',
    'vscode-vfs://store/house/places.wiring',
  ]);
  expect(codes).toContain('unknown-terminal');
  expect(codes).not.toContain('import-missing');
  console.log(`worker: initialize after ${milliseconds.initialize} ms, findings after ${milliseconds.findings} ms`);
});

interface Task {
  readonly script: string;
  readonly text: string;
  readonly files: Record<string, string>;
}

interface Heard {
  readonly codes: string[];
  readonly asked: string[];
  readonly milliseconds: { readonly initialize: number; readonly findings: number };
}

/** In the page: the editor's half of the conversation, up to the first findings. */
function talk({ script, text, files }: Task): Promise<Heard> {
  const uri = 'vscode-vfs://store/house/bell.wiring';
  const began = performance.now();
  const since = () => Math.round(performance.now() - began);
  const worker = new Worker(URL.createObjectURL(new Blob([script], { type: 'text/javascript' })));
  const send = (message: object) => worker.postMessage({ jsonrpc: '2.0', ...message });
  const asked: string[] = [];
  let initialize = 0;
  return new Promise((resolve, reject) => {
    worker.addEventListener('error', (event) => reject(new Error(event.message)));
    worker.addEventListener('message', ({ data }) => {
      if (data.id === 'first' && data.result) {
        initialize = since();
        send({ method: 'initialized', params: {} });
        const textDocument = { uri, languageId: 'ohmstead', version: 1, text };
        send({ method: 'textDocument/didOpen', params: { textDocument } });
      } else if (data.method === 'ohmstead/readFile') {
        asked.push(data.params.uri);
        send({ id: data.id, result: { text: files[data.params.uri] ?? null } });
      } else if (data.method === 'textDocument/publishDiagnostics') {
        const codes = data.params.diagnostics.map((finding: { code: string }) => finding.code);
        worker.terminate();
        resolve({ codes, asked, milliseconds: { initialize, findings: since() } });
      } else if (data.id !== undefined && data.method) send({ id: data.id, result: null });
    });
    const workspaceFolders = [{ uri: 'vscode-vfs://store/house', name: 'house' }];
    send({
      id: 'first',
      method: 'initialize',
      params: {
        processId: null,
        rootUri: null,
        workspaceFolders,
        capabilities: {},
        initializationOptions: { files: true },
      },
    });
  });
}
