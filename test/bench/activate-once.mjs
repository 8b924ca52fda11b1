/** Loads and activates the extension once, in an editor that does nothing of what it is asked for; prints the times in ms. */

import { readFileSync } from 'node:fs';
import Module, { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

const at = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const bundle = at('packages/extension/dist/extension.js');

/** Can be called, made and read from, and does nothing. */
function stub(own = {}) {
  const made = new Proxy(function Stub() {}, {
    get: (target, name) => {
      if (name === 'prototype') return target.prototype;
      if (Object.hasOwn(own, name)) return own[name];
      return typeof name === 'symbol' || name === 'then' ? undefined : stub();
    },
    apply: () => stub(),
    construct: (target, args, maker) => (maker === made ? stub() : Reflect.construct(target, args, maker)),
  });
  return made;
}

const names = readFileSync(at('node_modules/@types/vscode/index.d.ts'), 'utf8').matchAll(
  /^\s+export (?:abstract )?(?:class|enum|namespace|function|const) (\w+)/gm,
);
const path = { fsPath: at('packages/extension/dist/start-server.js') };
const vscode = {
  ...Object.fromEntries([...names].map(([, name]) => [name, stub()])),
  version: '1.91.0',
  workspace: stub({ workspaceFolders: [], textDocuments: [], notebookDocuments: [] }),
  window: stub({ activeTextEditor: undefined, visibleTextEditors: [], visibleNotebookEditors: [] }),
  Uri: stub({ joinPath: () => stub(path) }),
};
const load = Module._load;
Module._load = (name, ...rest) => (name === 'vscode' ? vscode : load(name, ...rest));

// An extension's process has loaded these long before.
for (const name of ['child_process', 'fs', 'net', 'os', 'path', 'crypto', 'url']) load(`node:${name}`);

const cpuBegan = process.cpuUsage();
const began = performance.now();
const extension = createRequire(import.meta.url)(bundle);
const loaded = performance.now();
await extension.activate({ subscriptions: [], extensionUri: stub(path), asAbsolutePath: (name) => name });
const activated = performance.now();
const { user, system } = process.cpuUsage(cpuBegan);
console.log(JSON.stringify({ load: loaded - began, activate: activated - loaded, cpu: (user + system) / 1000 }));
process.exit(0);
