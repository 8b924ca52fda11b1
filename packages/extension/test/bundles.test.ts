// What ships: no more than the list, small enough, without the network, and without Node where there is a browser.
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { beforeAll, describe, expect, test } from 'vitest';

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

/** Every file under the paths that ship. */
function filesOf(path: string): string[] {
  const full = join(here, path);
  if (!statSync(full).isDirectory()) return [full];
  return readdirSync(full).flatMap((name) => filesOf(join(path, name)));
}

/** Modules that a script asks for and does not carry; a library's guarded question for Node's `util` is never asked in a browser. */
function required(code: string): string[] {
  const asked = [...code.matchAll(/(?<![\w.$])require\("([^"]+)"\)/g), ...code.matchAll(/\bfrom"([^"]+)"/g)];
  return [...new Set(asked.map((match) => match[1]!))].sort();
}

test('the manifest starts what ships', () => {
  const manifest = JSON.parse(readFileSync(join(here, 'package.json'), 'utf8'));
  expect(shipped).toContain(manifest.main.slice(2));
  expect(shipped).toContain(manifest.browser.slice(2));
});

test('the package stays under 1 MB', () => {
  const bytes = shipped.flatMap(filesOf).reduce((sum, file) => sum + gzipSync(readFileSync(file)).length, 0);
  expect(bytes).toBeLessThan(1024 * 1024);
});

test('each script stays within its budget', () => {
  const budget: Record<string, number> = {
    'dist/extension.cjs': 500,
    'dist/server.cjs': 1100,
    'dist/web/extension.js': 460,
    'dist/web/server.js': 1100,
    'dist/panel.js': 250,
    'dist/compare.js': 60,
    'dist/explain.js': 60,
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

  test('for a browser asks for a module of Node', () => {
    const ofNode = new Set(builtinModules.flatMap((name) => [name, `node:${name}`]));
    const browser = scripts.filter(({ path }) => /\/web\/|(panel|compare)\.js/.test(path));
    expect(browser).toHaveLength(4);
    for (const { path, code } of browser) {
      const asked = required(code).filter((name) => ofNode.has(name));
      expect(
        asked.filter((name) => name !== 'util'),
        path,
      ).toEqual([]);
      expect(code.includes('.require("util")') || !asked.includes('util'), path).toBe(true);
    }
  });

  test('is sent out with its source or unminified', () => {
    for (const { path, code } of scripts) {
      expect(code.includes('sourceMappingURL'), path).toBe(false);
      expect(code.split('\n').length / code.length, path).toBeLessThan(0.01);
    }
  });
});
