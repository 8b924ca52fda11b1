// Writes LIBRARY.md from the type library: node packages/language/write-library-page.mjs
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import './polyfill.mjs';

const here = new URL('./', import.meta.url);
const { outputFiles } = await build({
  entryPoints: [fileURLToPath(new URL('src/library-page.ts', here))],
  bundle: true,
  write: false,
  platform: 'node',
  format: 'esm',
  mainFields: ['module', 'main'],
  conditions: ['import'],
});
const { libraryPage } = await import(
  `data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`
);
writeFileSync(new URL('LIBRARY.md', here), libraryPage());
