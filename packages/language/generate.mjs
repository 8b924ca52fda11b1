// Writes src/generated: the parser's parts from the grammar, the texts of the type library and of the checks' pages as modules, so that bundles need no files, and the library's types as they are read from its texts, so that no start reads them.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { loadSource } from './load-source.mjs';

const here = new URL('./', import.meta.url);
const polyfill = fileURLToPath(new URL('polyfill.mjs', here));
const langium = fileURLToPath(new URL('../../node_modules/langium-cli/bin/langium.js', here));
const config = fileURLToPath(new URL('langium-config.json', here));

// The generator asks before it leaves files that are not its own; a build cannot answer.
for (const name of ['library', 'library-types', 'check-pages'])
  rmSync(new URL(`src/generated/${name}.ts`, here), { force: true });
const run = spawnSync(
  process.execPath,
  ['--import', pathToFileURL(polyfill).href, langium, 'generate', '--file', config],
  { stdio: ['ignore', 'pipe', 'inherit'], encoding: 'utf8' },
);
if (run.status !== 0) {
  process.stderr.write(run.stdout);
  process.exit(run.status ?? 1);
}

mkdirSync(new URL('src/generated/', here), { recursive: true });
writeTexts('library', 'libraryTexts', new URL('library/', here), '.wiring');
writeTexts('check-pages', 'checkPages', new URL('../record/src/checks/', here), '.md');

const { typesOfLibrary } = await loadSource(new URL('src/read-library.ts', here));
writeFileSync(
  new URL('src/generated/library-types.ts', here),
  `// Written by generate.mjs.\nexport const libraryTypes: string = ${JSON.stringify(JSON.stringify(typesOfLibrary()))};\n`,
);

/** Writes a module that holds every text of a folder, by file name. */
function writeTexts(module, constant, folder, ending) {
  const entries = readdirSync(folder)
    .filter((name) => name.endsWith(ending))
    .sort()
    .map((name) => `  ${JSON.stringify(name)}: ${JSON.stringify(readFileSync(new URL(name, folder), 'utf8'))},\n`);
  writeFileSync(
    new URL(`src/generated/${module}.ts`, here),
    `// Written by generate.mjs.\nexport const ${constant}: Readonly<Record<string, string>> = {\n${entries.join('')}};\n`,
  );
}
