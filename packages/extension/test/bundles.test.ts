// What ships: no more than the list, small enough, without the network, and without Node where there is a browser.
import { webcrypto } from 'node:crypto';
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createContext, runInContext } from 'node:vm';
import { beforeAll, describe, expect, test, vi } from 'vitest';

const here = new URL('..', import.meta.url).pathname;
let shipped: readonly string[];
let scripts: { path: string; code: string }[];

beforeAll(async () => {
  const list = './shipped.mjs';
  ({ shipped } = await import(new URL(`../${list}`, import.meta.url).href));
  const missing = shipped.filter((path) => !existsSync(join(here, path)));
  if (missing.length > 0) throw new Error(`Not built: ${missing.join(', ')}; npm run build makes them`);
  scripts = shipped
    .filter((path) => /\.c?js$/.test(path))
    .map((path) => ({ path, code: readFileSync(join(here, path), 'utf8') }));
});

/** A script's code by its name, run in a world that has what a browser's worker has and nothing of Node. */
function runInWorker(name: string, more: Record<string, unknown>): Record<string, unknown> {
  const module = { exports: {} };
  const scope: Record<string, unknown> = {
    ...{ TextDecoder, TextEncoder, URL, setTimeout, clearTimeout, queueMicrotask, console, crypto: webcrypto },
    addEventListener: () => {},
    module,
    exports: module.exports,
  };
  // A setter is to stay one.
  Object.defineProperties(scope, Object.getOwnPropertyDescriptors(more));
  scope['self'] = scope;
  const { code } = scripts.find(({ path }) => path === name)!;
  runInContext(code, createContext(scope));
  return module.exports;
}

test('the manifest starts what ships', () => {
  const manifest = JSON.parse(readFileSync(join(here, 'package.json'), 'utf8'));
  expect(shipped).toContain(manifest.main.slice(2));
  expect(shipped).toContain(manifest.browser.slice(2));
});

// Packing takes all the effort that there is, and a busy machine its time.
test('the package, as it is given out, stays under 1 MB', { timeout: 300_000 }, () => {
  const folder = mkdtempSync(join(tmpdir(), 'ohmstead-package-'));
  try {
    const target = join(folder, 'ohmstead.vsix');
    execFileSync(process.execPath, [join(here, 'package.mjs'), target], { stdio: 'pipe' });
    expect(statSync(target).size).toBeGreaterThan(500 * 1024);
    expect(statSync(target).size).toBeLessThan(1_000_000);
  } finally {
    rmSync(folder, { recursive: true });
  }
});

describe('in a browser, without Node', () => {
  test('the language server listens to its worker', async () => {
    let heard: ((event: { data: unknown }) => void) | undefined;
    const answered = new Promise<unknown>((resolve) => {
      runInWorker('dist/server.js', {
        postMessage: resolve,
        set onmessage(listener: typeof heard) {
          heard = listener;
        },
      });
    });
    await vi.waitFor(() => expect(heard).toBeDefined());
    heard!({
      data: {
        jsonrpc: '2.0',
        id: 1,
        method: 'initialize',
        params: { processId: null, rootUri: null, capabilities: {} },
      },
    });
    expect(await answered).toMatchObject({ id: 1, result: { serverInfo: { name: 'ohmstead' } } });
  });

  test('the extension starts the server as a worker', async () => {
    /** Whatever is asked of the editor is there, can be called and made, and does nothing. */
    const anything = (own: Record<string, unknown> = {}): unknown => {
      const made: object = new Proxy(function Anything() {}, {
        get: (target, name) => {
          if (name === 'prototype') return target.prototype;
          if (Object.hasOwn(own, name)) return own[name as string];
          return typeof name === 'symbol' || name === 'then' ? undefined : anything();
        },
        apply: () => anything(),
        construct: (target, given, maker) =>
          (maker === made ? anything() : Reflect.construct(target, given, maker)) as object,
      });
      return made;
    };
    const typings = readFileSync(join(here, '../../node_modules/@types/vscode/index.d.ts'), 'utf8');
    const names = typings.matchAll(/^\s+export (?:abstract )?(?:class|enum|namespace|function|const) (\w+)/gm);
    const editor = Object.fromEntries([...names].map(([, name]) => [name!, anything()]));
    const asked: string[] = [];
    const started = new Promise<string>((resolve) => {
      const { activate } = runInWorker('dist/client.js', {
        require: (name: string) => {
          asked.push(name);
          const joined = { joinPath: (...parts: unknown[]) => ({ toString: () => parts.slice(1).join('/') }) };
          const workspace = { workspaceFolders: [], textDocuments: [], notebookDocuments: [] };
          const window = { activeTextEditor: undefined, visibleTextEditors: [], visibleNotebookEditors: [] };
          return {
            ...editor,
            Uri: anything(joined),
            workspace: anything(workspace),
            window: anything(window),
            version: '1.91.0',
          };
        },
        Worker: class {
          constructor(script: string) {
            resolve(script);
          }
          postMessage() {}
          addEventListener() {}
        },
      });
      (activate as (context: unknown) => void)({ subscriptions: [], extensionUri: anything() });
    });
    expect(await started).toBe('dist/server.js');
    expect(new Set(asked)).toEqual(new Set(['vscode']));
  });
});

test('on a desktop, activation loads none of the client’s code', () => {
  const codeOf = (name: string) => scripts.find(({ path }) => path === name)!.code;
  expect(codeOf('dist/client.js')).toContain('textDocument/didOpen');
  expect(codeOf('dist/extension.js')).not.toContain('textDocument/');
});

test('each script stays within its budget', () => {
  const budget: Record<string, number> = {
    'dist/extension.js': 60,
    'dist/client.js': 520,
    'dist/start-server.js': 100,
    'dist/server.js': 1520,
    'dist/layout.js': 1600,
    'dist/panel.js': 250,
    'dist/compare.js': 100,
    'dist/explain.js': 100,
  };
  const sizes = scripts.map(({ path, code }) => [path, code.length / 1024] as const);
  expect(sizes.map(([path]) => path).sort()).toEqual(Object.keys(budget).sort());
  for (const [path, kilobytes] of sizes) expect(kilobytes, path).toBeLessThan(budget[path]!);
});

describe('no script', () => {
  test('asks the network for anything', () => {
    const network =
      /\bXMLHttpRequest\b|\bWebSocket\b|\bEventSource\b|\bsendBeacon\b|(?<![\w.$])fetch\(|\bimportScripts\(/;
    for (const { path, code } of scripts) expect(network.exec(code)?.[0], path).toBeUndefined();
  });

  test('of a page asks for a module', () => {
    const pages = scripts.filter(({ path }) => !/(extension|client|server)\.js/.test(path));
    expect(pages).toHaveLength(4);
    for (const { path, code } of pages) expect(/(?<![\w.$])require\("/.exec(code)?.[0], path).toBeUndefined();
  });

  test('is sent out with its source or unminified', () => {
    for (const { path, code } of scripts) {
      expect(code.includes('sourceMappingURL'), path).toBe(false);
      expect(code.split('\n').length / code.length, path).toBeLessThan(0.01);
    }
  });
});
