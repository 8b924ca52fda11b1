/** Builds everything that ships: the command line, the extension, its language server and its panel's page. */

import { mkdir, readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { build, transform } from 'esbuild';

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
    ...forBrowser,
    entryPoints: ['packages/extension/src/extension-web.ts'],
    outfile: 'packages/extension/dist/web/extension.js',
    format: 'cjs',
    external: ['vscode'],
  },
  {
    ...forBrowser,
    entryPoints: ['packages/language/src/server/main-worker.ts'],
    outfile: 'packages/extension/dist/web/server.js',
    format: 'iife',
    banner: { js: polyfill },
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
  const entryPoints = [source];
  const { outputFiles } = await build({ ...common, entryPoints, platform: 'neutral', format: 'esm', write: false });
  const { [name]: style } = await import(
    `data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`
  );
  const { code } = await transform(style, { loader: 'css', minify: true });
  await mkdir(new URL('.', new URL(outfile, import.meta.url)), { recursive: true });
  await writeFile(new URL(outfile, import.meta.url), code);
}

/** The licences of the libraries that went into the bundles, word for word. */
async function noticesOf(results) {
  const inputs = results.flatMap(({ metafile }) => Object.keys(metafile.inputs));
  const folders = inputs.flatMap((path) => path.match(/^.*node_modules\/(?:@[^/]+\/)?[^/]+/)?.[0] ?? []);
  const notices = await Promise.all(
    [...new Set(folders)].sort().map(async (folder) => {
      const at = new URL(`${folder}/`, import.meta.url);
      const { name, version, license } = JSON.parse(await readFile(new URL('package.json', at), 'utf8'));
      const files = (await readdir(at)).filter((file) => /^(licen[cs]e|notice|copying)/i.test(file)).sort();
      const texts = await Promise.all(files.map((file) => readFile(new URL(file, at), 'utf8')));
      return [`${name} ${version}, ${license}`, ...texts.map((text) => text.trim())].join('\n\n');
    }),
  );
  return `${notices.join(`\n\n${'-'.repeat(80)}\n\n`)}\n`;
}

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
for (const folder of ['packages/cli/dist', 'packages/extension/dist']) {
  const inside = built.filter((_, index) => bundles[index].outfile.startsWith(`${folder}/`));
  await writeFile(new URL(`${folder}/NOTICES.txt`, import.meta.url), await noticesOf(inside));
}

if (verbose) {
  for (const { outfile } of [...bundles, ...sheets]) {
    const { size } = await stat(new URL(outfile, import.meta.url));
    console.log(`${outfile.padEnd(44)} ${(size / 1024).toFixed(0).padStart(6)} KB`);
  }
}
