/**
 * The fault finder in hidden houses: every example and random records, each with single faults and sound, gone through step by step; beside it
 * the fixed order of a troubleshooting sheet. Then the processor's time for one explanation.
 *
 *   node test/bench/explain.mjs [--records 20] [--faults 4] [--examples-faults 12] [--sound 2] [--seeds 77] [--only kind-or-id]
 *                               [--record name] [--sheet] [--misses]
 *
 * Of each random record so many faults and of each example so many, or `all`; with several seeds, `--seeds 77,1977`, each record is gone
 * through once with each. Every reading counts as a step, one that is only heard or seen too, and two that are taken at one visit as two.
 * A fault that shows nowhere (`isVisible`) is left out of the shares and counted beside them.
 *
 * `--records 200 --faults 1 --examples-faults all --sound 1 --seeds 77,1977` is the proof, and takes some ten minutes of one core;
 * `--faults all --sheet` takes hours. The run without arguments is a small part of it.
 */

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { build } from 'esbuild';

const { values: asked } = parseArgs({
  options: {
    records: { type: 'string', default: '20' },
    faults: { type: 'string', default: '4' },
    'examples-faults': { type: 'string', default: '12' },
    sound: { type: 'string', default: '2' },
    seeds: { type: 'string', default: '77' },
    only: { type: 'string', default: '' },
    record: { type: 'string', default: '' },
    sheet: { type: 'boolean', default: false },
    misses: { type: 'boolean', default: false },
  },
});
const count = (words) => (words === 'all' ? undefined : Number(words));
const at = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));

const folder = mkdtempSync(join(tmpdir(), 'explain-bench-'));
const outfile = join(folder, 'explain.mjs');
await build({
  entryPoints: [at('test/bench/explain-entry.ts')],
  outfile,
  bundle: true,
  platform: 'node',
  format: 'esm',
  sourcemap: 'inline',
  alias: {
    '@ohmstead/circuit': at('packages/circuit/src/index.ts'),
    '@ohmstead/record': at('packages/record/src/index.ts'),
  },
  banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);" },
});
const { casesOf, examples, explain, missOf, randomRecords, shortfalls, tableOf, tallies } = await import(
  pathToFileURL(outfile).href
);
rmSync(folder, { recursive: true });

const seconds = () => process.cpuUsage().user / 1e6;
const tried = (records, faults) => records.map((record) => ({ ...record, faults }));
const records = [
  ...tried(examples(at('.')), count(asked['examples-faults'])),
  ...tried(randomRecords(Number(asked.records), 11), count(asked.faults)),
];
const began = seconds();
const cases = asked.seeds.split(',').flatMap((seed) =>
  records.flatMap(({ name, analysis, faults }, k) =>
    name.includes(asked.record)
      ? casesOf(name, analysis, {
          faults,
          soundHouses: Number(asked.sound),
          seed: Number(seed) + 31 * k,
          sheet: asked.sheet,
          only: asked.only,
        })
      : [],
  ),
);
const ran = `${asked.records} random records with ${asked.faults} faults each, examples with ${asked['examples-faults']}, ${asked.sound} sound houses of each, seeds ${asked.seeds}`;
console.log(`${ran}: ${cases.length} houses, ${(seconds() - began).toFixed(0)} s of CPU`);
if (asked.misses) {
  for (const one of cases) if (one.kind === 'sound' && one.readings > 6) console.log(missOf(one));
  for (const one of cases) if (one.wasExcluded || (one.visible && one.place !== 1)) console.log(missOf(one));
}
console.log(tableOf(tallies(cases)));
const short = shortfalls(cases);
console.log(short.length === 0 ? 'all wanted figures are met' : `short of what is wanted: ${short.join('; ')}`);

const times = records.slice(0, 20).map(({ analysis }) => {
  explain(analysis);
  const start = process.cpuUsage().user;
  explain(analysis);
  return (process.cpuUsage().user - start) / 1000;
});
times.sort((x, y) => x - y);
console.log(`one explanation with the next step, CPU, median: ${times[times.length >> 1].toFixed(1)} ms`);
