// `npm start`: runs the main job on the example records, as a person at a terminal would.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));
const command = fileURLToPath(new URL('./bin/ohmstead.js', import.meta.url));

function ohmstead(...args) {
  const run = spawnSync(process.execPath, [command, ...args], { cwd: root, encoding: 'utf8' });
  if (run.error) throw run.error;
  if (run.status !== 0 && run.status !== 1) {
    process.stderr.write(run.stdout + run.stderr);
    process.exit(2);
  }
  return run.stdout;
}

const records = ['as-found-bell', 'doorbell-first-try', 'doorbell-done-right'].map((name) => `examples/${name}.wiring`);
for (const record of records) {
  console.log(`\n${'='.repeat(100)}\n$ ohmstead check ${record}\n`);
  process.stdout.write(ohmstead('check', record));
  console.log(`\n$ ohmstead budget ${record}\n`);
  process.stdout.write(ohmstead('budget', record));
}

const pages = fileURLToPath(new URL('./dist/budget/', import.meta.url));
mkdirSync(pages, { recursive: true });
console.log(`\n${'='.repeat(100)}\nBudget pages, to be opened in a browser or printed:`);
for (const file of readdirSync(`${root}examples`)
  .filter((name) => name.endsWith('.wiring'))
  .sort()) {
  const page = `${pages}${file.replace(/\.wiring$/, '.html')}`;
  writeFileSync(page, ohmstead('budget', '--format', 'html', `examples/${file}`));
  console.log(`  ${page}`);
}
const vsix = `${root}packages/extension/dist/ohmstead.vsix`;
console.log(
  `\nThe extension, ${(statSync(vsix).size / 1024).toFixed(0)} KB (in VS Code: Extensions: Install from VSIX…):\n  ${vsix}`,
);
