/** Builds everything that ships: the command line, the extension, its language server and its panel's page. */

import { readFile, stat } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('.', import.meta.url));
const verbose = process.argv.includes('--verbose');
const polyfill = await readFile(new URL('packages/language/polyfill.mjs', import.meta.url), 'utf8');

const common = {
  absWorkingDir: root,
  bundle: true,
  minify: true,
  legalComments: 'none',
  logLevel: 'warning',
  mainFields: ['module', 'main'],
  conditions: ['import'],
};

const forNode = { ...common, platform: 'node', target: 'node20' };

/** Dependencies in CommonJS ask for Node's own modules by `require`, which an ES module has not. */
const requireInModule =
  "import { createRequire as ohmsteadRequire } from 'node:module'; const require = ohmsteadRequire(import.meta.url);";

const bundles = [
  {
    ...forNode,
    entryPoints: ['packages/cli/src/main.ts'],
    outfile: 'packages/cli/dist/ohmstead.js',
    format: 'esm',
    banner: { js: `${requireInModule}\n${polyfill}` },
  },
  {
    ...forNode,
    entryPoints: ['packages/extension/src/extension.ts'],
    outfile: 'packages/extension/dist/extension.cjs',
    format: 'cjs',
    external: ['vscode'],
    banner: { js: polyfill },
  },
  {
    ...forNode,
    entryPoints: ['packages/language/src/server/main-ipc.ts'],
    outfile: 'packages/extension/dist/server.cjs',
    format: 'cjs',
    banner: { js: polyfill },
  },
  {
    ...common,
    platform: 'browser',
    target: 'es2022',
    entryPoints: ['packages/extension/src/panel/page.ts'],
    outfile: 'packages/extension/dist/panel.js',
    format: 'iife',
  },
  {
    ...common,
    entryPoints: ['packages/extension/src/panel/panel.css'],
    outfile: 'packages/extension/dist/panel.css',
  },
];

await Promise.all(bundles.map((options) => build(options)));

if (verbose) {
  for (const { outfile } of bundles) {
    const { size } = await stat(new URL(outfile, import.meta.url));
    console.log(`${outfile.padEnd(44)} ${(size / 1024).toFixed(0).padStart(6)} KB`);
  }
}
