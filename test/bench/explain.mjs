/**
 * The fault finder in hidden houses: every example and random records, each with single faults and sound, gone through step by step; beside it
 * the fixed order of a troubleshooting sheet. Then the processor's time for one explanation.
 * `node test/bench/explain.mjs [random records, 200] [faults of each, all]`
 */

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const at = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const RECORDS = Number(process.argv[2] ?? 200);
const FAULTS = process.argv[3] === undefined ? undefined : Number(process.argv[3]);

const folder = mkdtempSync(join(tmpdir(), 'explain-bench-'));
const outfile = join(folder, 'explain.mjs');
await build({
  entryPoints: [at('test/bench/explain-entry.ts')],
  outfile,
  bundle: true,
  platform: 'node',
  format: 'esm',
  alias: {
    '@ohmstead/circuit': at('packages/circuit/src/index.ts'),
    '@ohmstead/record': at('packages/record/src/index.ts'),
  },
  banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);" },
});
const { casesOf, examples, explain, randomRecords, tableOf, tallies } = await import(pathToFileURL(outfile).href);
rmSync(folder, { recursive: true });

const records = [...examples(at('.')), ...randomRecords(RECORDS, 11)];
const cases = records.flatMap(({ name, analysis }, k) =>
  casesOf(name, analysis, { faults: FAULTS, soundHouses: 2, seed: 77 + 31 * k, sheet: true }),
);
console.log(`${records.length} records, ${cases.length} houses`);
console.log(tableOf(tallies(cases)));

const times = records.slice(0, 20).map(({ analysis }) => {
  explain(analysis);
  const start = process.cpuUsage().user;
  explain(analysis);
  return (process.cpuUsage().user - start) / 1000;
});
times.sort((x, y) => x - y);
console.log(`one explanation with the next step, CPU, median: ${times[times.length >> 1].toFixed(1)} ms`);
