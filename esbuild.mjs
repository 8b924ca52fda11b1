/** Builds everything that ships: the command line, the extension, its language server and its panel's page. */

import { mkdir, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { build, transform } from 'esbuild';
import { layoutScript } from './packages/extension/layout-bundle.mjs';
import { loadSource } from './packages/language/load-source.mjs';

const root = fileURLToPath(new URL('.', import.meta.url));
const verbose = process.argv.includes('--verbose');
const polyfill = await readFile(new URL('packages/language/polyfill.mjs', import.meta.url), 'utf8');

const common = {
  metafile: true,
  absWorkingDir: root,
  bundle: true,
  minify: true,
  legalComments: 'none',
  logLevel: 'warning',
  mainFields: ['module', 'main'],
  conditions: ['import'],
};

const forBrowser = { ...common, platform: 'browser', target: 'es2022' };
const forNode = { ...common, platform: 'node', target: 'node20' };
/** One script for a desktop's process and a browser's worker, since nearly all of it is the same; each runs its own part alone. */
const forBothHosts = { ...forNode, format: 'cjs', conditions: ['import', 'browser'], banner: { js: polyfill } };

/** Dependencies in CommonJS ask for Node's own modules by `require`, which an ES module has not. */
const requireInModule =
  "import { createRequire as ohmsteadRequire } from 'node:module'; const require = ohmsteadRequire(import.meta.url);";

const bundles = [
  {
    ...forNode,
    entryPoints: { ohmstead: 'packages/cli/src/main.ts' },
    outdir: 'packages/cli/dist',
    format: 'esm',
    // What one command alone wants is loaded by that: a start costs what its scripts cost to compile.
    splitting: true,
    chunkNames: 'part-[hash]',
    banner: { js: `${requireInModule}\n${polyfill}` },
  },
  {
    ...forNode,
    entryPoints: ['packages/extension/src/extension.ts'],
    outfile: 'packages/extension/dist/extension.js',
    format: 'cjs',
    external: ['vscode'],
  },
  {
    ...forBothHosts,
    entryPoints: ['packages/extension/src/client-script.ts'],
    outfile: 'packages/extension/dist/client.js',
    external: ['vscode'],
  },
  {
    ...forBothHosts,
    entryPoints: ['packages/extension/src/server/main.ts'],
    outfile: 'packages/extension/dist/server.js',
  },
  {
    ...forNode,
    entryPoints: ['packages/extension/src/server/start.ts'],
    outfile: 'packages/extension/dist/start-server.js',
    format: 'cjs',
  },
  {
    ...forBrowser,
    entryPoints: ['packages/extension/src/panel/page.ts'],
    outfile: 'packages/extension/dist/panel.js',
    format: 'iife',
  },
  {
    ...forBrowser,
    entryPoints: ['packages/extension/src/compare/page.ts'],
    outfile: 'packages/extension/dist/compare.js',
    format: 'iife',
  },
  {
    ...forBrowser,
    entryPoints: ['packages/extension/src/explain-panel/page.ts'],
    outfile: 'packages/extension/dist/explain.js',
    format: 'iife',
  },
];

/** The panels' sheets are made in TypeScript, since the standalone pages carry most of them too. */
async function buildStyle({ source, name, outfile }) {
  const { [name]: style } = await loadSource(new URL(source, import.meta.url));
  const { code } = await transform(style, { loader: 'css', minify: true });
  await mkdir(new URL('.', new URL(outfile, import.meta.url)), { recursive: true });
  await writeFile(new URL(outfile, import.meta.url), code);
}

/** The licences of the libraries that went into the bundles, word for word; one that several have stands once, under all their names. */
async function noticesOf(results) {
  const inputs = results.flatMap(({ metafile }) => Object.keys(metafile.inputs));
  const folders = inputs.flatMap((path) => path.match(/^.*node_modules\/(?:@[^/]+\/)?[^/]+/)?.[0] ?? []);
  const libraries = new Map();
  for (const folder of [...new Set(folders)].sort()) {
    const at = new URL(`${folder}/`, import.meta.url);
    const { name, version, license, repository } = JSON.parse(await readFile(new URL('package.json', at), 'utf8'));
    const files = (await readdir(at)).filter((file) => /^(licen[cs]e|notice|copying)/i.test(file)).sort();
    const texts = await Promise.all(files.map((file) => readFile(new URL(file, at), 'utf8')));
    const licence = texts.map((text) => text.replaceAll('\r', '').trim()).join('\n\n');
    const source = repository?.url ?? repository ?? `https://www.npmjs.com/package/${name}`;
    const having = libraries.get(licence) ?? [];
    libraries.set(licence, [...having, `${name} ${version}, ${license}\nIts source is at ${source}`]);
  }
  const notices = [...libraries].map(([licence, names]) => `${names.join('\n\n')}\n\n${licence}`);
  return `${notices.join(`\n\n${'-'.repeat(80)}\n\n`)}\n`;
}

const folderOf = ({ outdir, outfile }) => outdir ?? outfile.slice(0, outfile.lastIndexOf('/'));

const layoutLibrary = 'node_modules/elkjs/lib/elk-worker.min.js';
const layoutFile = 'packages/extension/dist/layout.js';

// Parts of an earlier build go by other names.
await rm(new URL('packages/cli/dist/', import.meta.url), { recursive: true, force: true });
// The package is one of ES modules, and what ships is not.
await mkdir(new URL('packages/extension/dist/', import.meta.url), { recursive: true });
await writeFile(new URL('packages/extension/dist/package.json', import.meta.url), '{ "type": "commonjs" }\n');

const sheets = [
  {
    source: 'packages/extension/src/panel/style.ts',
    name: 'panelStyle',
    outfile: 'packages/extension/dist/panel.css',
  },
  {
    source: 'packages/extension/src/compare/style.ts',
    name: 'comparePageStyle',
    outfile: 'packages/extension/dist/compare.css',
  },
  {
    source: 'packages/extension/src/explain-panel/style.ts',
    name: 'explainPageStyle',
    outfile: 'packages/extension/dist/explain.css',
  },
];
const [built] = await Promise.all([Promise.all(bundles.map((options) => build(options))), ...sheets.map(buildStyle)]);
// The panel starts it as a worker with the first drawing.
await writeFile(
  new URL(layoutFile, import.meta.url),
  await layoutScript(fileURLToPath(new URL(layoutLibrary, import.meta.url))),
);
for (const folder of ['packages/cli/dist', 'packages/extension/dist']) {
  const inside = built.filter((_, index) => folderOf(bundles[index]) === folder);
  await writeFile(new URL(`${folder}/NOTICES.txt`, import.meta.url), await noticesOf(inside));
}

if (verbose) {
  const parts = built.flatMap(({ metafile }) => Object.keys(metafile.outputs));
  for (const outfile of [...parts, ...sheets.map((sheet) => sheet.outfile), layoutFile]) {
    const { size } = await stat(new URL(outfile, import.meta.url));
    console.log(`${outfile.padEnd(44)} ${(size / 1024).toFixed(0).padStart(6)} KB`);
  }
}
