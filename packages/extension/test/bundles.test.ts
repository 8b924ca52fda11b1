// What ships: no more than the list, small enough, without the network, and without Node where there is a browser.
import { webcrypto } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { createContext, runInContext } from 'node:vm';
import { gzipSync } from 'node:zlib';
import { beforeAll, describe, expect, test, vi } from 'vitest';

const here = new URL('..', import.meta.url).pathname;
let shipped: readonly string[];
let shippedWhereThere: readonly string[];
let scripts: { path: string; code: string }[];

beforeAll(async () => {
  const list = './shipped.mjs';
  ({ shipped, shippedWhereThere } = await import(new URL(`../${list}`, import.meta.url).href));
  const missing = shipped.filter((path) => !existsSync(join(here, path)));
  if (missing.length > 0) throw new Error(`Not built: ${missing.join(', ')}; npm run build makes them`);
  scripts = shipped
    .filter((path) => /\.c?js$/.test(path))
    .map((path) => ({ path, code: readFileSync(join(here, path), 'utf8') }));
});

/** Every file under the paths that ship. */
function filesOf(path: string): string[] {
  const full = join(here, path);
  if (!statSync(full).isDirectory()) return [full];
  return readdirSync(full).flatMap((name) => filesOf(join(path, name)));
}

/** A script's code by its name, run in a world that has what a browser's worker has and nothing of Node. */
function runInWorker(name: string, more: Record<string, unknown>): Record<string, unknown> {
  const module = { exports: {} };
  const scope: Record<string, unknown> = {
    ...{ TextDecoder, TextEncoder, URL, setTimeout, clearTimeout, queueMicrotask, console, crypto: webcrypto },
    addEventListener: () => {},
    module,
    exports: module.exports,
    ...more,
  };
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

test('the package stays under 1 MB', () => {
  const there = [...shipped, ...shippedWhereThere.filter((path) => existsSync(join(here, path)))];
  const bytes = there.flatMap(filesOf).reduce((sum, file) => sum + gzipSync(readFileSync(file)).length, 0);
  expect(bytes).toBeLessThan(1024 * 1024);
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
    const anything = (own: Record<string, unknown> = {}): unknown =>
      new Proxy(class {}, {
        get: (_target, name) =>
          name in own ? own[name as string] : typeof name === 'symbol' || name === 'then' ? undefined : anything(),
        apply: () => anything(),
        construct: () => anything() as object,
      });
    const asked: string[] = [];
    const started = new Promise<string>((resolve) => {
      const { activate } = runInWorker('dist/extension.js', {
        require: (name: string) => {
          asked.push(name);
          return anything({
            Uri: { joinPath: (...parts: unknown[]) => ({ toString: () => parts.slice(1).join('/') }) },
            version: '1.91.0',
          });
        },
        Worker: class {
          constructor(script: string) {
            resolve(script);
          }
          postMessage() {}
          addEventListener() {}
        },
      });
      (activate as (context: unknown) => Promise<void>)({ subscriptions: [], extensionUri: anything() }).catch(
        () => {},
      );
    });
    expect(await started).toBe('dist/server.js');
    expect(new Set(asked)).toEqual(new Set(['vscode']));
  });
});

test('each script stays within its budget', () => {
  const budget: Record<string, number> = {
    'dist/extension.js': 520,
    'dist/start-server.js': 100,
    'dist/server.js': 1400,
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
    const pages = scripts.filter(({ path }) => !/extension\.js|server\.js/.test(path));
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
