// Writes src/generated: the parser's parts from the grammar, and the type library's text as a module, so that bundles need no files.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';

const here = new URL('./', import.meta.url);
const polyfill = fileURLToPath(new URL('polyfill.mjs', here));
const langium = fileURLToPath(new URL('../../node_modules/langium-cli/bin/langium.js', here));
const config = fileURLToPath(new URL('langium-config.json', here));

// The generator asks before it leaves a file that is not its own; a build cannot answer.
rmSync(new URL('src/generated/library.ts', here), { force: true });
const run = spawnSync(
  process.execPath,
  ['--import', pathToFileURL(polyfill).href, langium, 'generate', '--file', config],
  { stdio: ['ignore', 'pipe', 'inherit'], encoding: 'utf8' },
);
if (run.status !== 0) {
  process.stderr.write(run.stdout);
  process.exit(run.status ?? 1);
}

const files = readdirSync(new URL('library/', here))
  .filter((name) => name.endsWith('.wiring'))
  .sort();
const entries = files.map((name) => {
  const text = readFileSync(new URL(`library/${name}`, here), 'utf8');
  return `  ${JSON.stringify(name)}: ${JSON.stringify(text)},\n`;
});
mkdirSync(new URL('src/generated/', here), { recursive: true });
writeFileSync(
  new URL('src/generated/library.ts', here),
  `// Written by generate.mjs from library/*.wiring.\nexport const libraryTexts: Readonly<Record<string, string>> = {\n${entries.join('')}};\n`,
);
