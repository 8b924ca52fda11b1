/**
 * Loads and activates the extension once, in an editor with one record open that does nothing else of what it is asked for, with the real
 * server. Prints in ms: loading the script, activating, CPU of both, and when the record's findings were there. A folder of other bundles can be given.
 */

import { readFileSync } from 'node:fs';
import Module, { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const at = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const dist = resolve(process.argv[2] ?? at('packages/extension/dist'));

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

const uri = { scheme: 'file', path: '/bench/record.wiring', toString: () => 'file:///bench/record.wiring' };
const text = readFileSync(at('examples/as-found-bell.wiring'), 'utf8').replace('hall-chime.front', 'hall-chime.frint');
const document = { uri, languageId: 'ohmstead', version: 1, getText: () => text };

let found;
const findings = new Promise((done) => {
  found = (_uri, list) => done({ at: performance.now(), count: list?.length });
});

const names = readFileSync(at('node_modules/@types/vscode/index.d.ts'), 'utf8').matchAll(
  /^\s+export (?:abstract )?(?:class|enum|namespace|function|const) (\w+)/gm,
);
const shipped = (_base, ...parts) => ({ fsPath: join(dist, parts.at(-1)) });
const tabs = { all: [], onDidChangeTabs: () => stub(), onDidChangeTabGroups: () => stub() };
const vscode = {
  ...Object.fromEntries([...names].map(([, name]) => [name, stub()])),
  version: '1.91.0',
  env: { language: 'en' },
  workspace: stub({
    workspaceFolders: [],
    textDocuments: [document],
    notebookDocuments: [],
    getConfiguration: () => ({ get: (_key, usual) => usual }),
  }),
  window: stub({
    activeTextEditor: undefined,
    visibleTextEditors: [{ document }],
    visibleNotebookEditors: [],
    tabGroups: tabs,
  }),
  languages: stub({
    match: (_selector, one) => (one === document ? 10 : 0),
    createDiagnosticCollection: () => stub({ set: found }),
  }),
  EventEmitter: class {
    listeners = [];
    event = (listener) => {
      this.listeners.push(listener);
      return stub();
    };
    fire(what) {
      for (const listener of this.listeners) listener(what);
    }
    dispose() {}
  },
  CancellationTokenSource: class {
    token = { isCancellationRequested: false, onCancellationRequested: () => stub() };
    dispose() {}
  },
  Disposable: class {
    static from = () => stub();
    dispose() {}
  },
  Uri: stub({ joinPath: shipped, parse: () => uri }),
};
const load = Module._load;
Module._load = (name, ...rest) => (name === 'vscode' ? vscode : load(name, ...rest));

// An extension's process has loaded these long before.
for (const name of ['child_process', 'fs', 'net', 'os', 'path', 'crypto', 'url', 'readline']) load(`node:${name}`);

const cpuBegan = process.cpuUsage();
const began = performance.now();
const extension = createRequire(import.meta.url)(join(dist, 'extension.js'));
const loaded = performance.now();
await extension.activate({ subscriptions: [], extensionUri: stub(), asAbsolutePath: (name) => name });
const activated = performance.now();
const { user, system } = process.cpuUsage(cpuBegan);
const late = new Promise((_, fail) => setTimeout(() => fail(new Error('No findings within a minute')), 60_000));
const { at: foundAt, count } = await Promise.race([findings, late]);
if (count !== 1) throw new Error(`${count} findings instead of one`);
console.log(
  JSON.stringify({
    load: loaded - began,
    activate: activated - loaded,
    cpu: (user + system) / 1000,
    findings: foundAt - began,
  }),
);
process.exit(0);
