/** Speed of comparing: two records of a street, of which three houses differ, from their text and by the command. */

import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { recordOf } from './records.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));
const ROUNDS = 7;

const MEASURED = `
import './packages/language/polyfill.mjs';
import { checkRecord, compareChecked, differingRecords, parseWiring, readRecord } from '@ohmstead/language';
import { workOrders } from '@ohmstead/record';
const check = (uri, text, previous) =>
  checkRecord(readRecord(parseWiring(uri, text, previous && previous.reading.document)), { previous });
export function versions(old, now) {
  const cpu = process.cpuUsage();
  const started = performance.now();
  const records = differingRecords({ uri: 'bench:before', text: old }, { uri: 'bench:after', text: now });
  if (!records) throw new Error('nothing was left out');
  if (compareChecked(...records).conductors.length !== 1) throw new Error('one conductor was moved');
  const used = process.cpuUsage(cpu);
  return { time: performance.now() - started, cpu: (used.user + used.system) / 1000 };
}
export function round(old, now, index) {
  const cold = process.cpuUsage();
  const started = performance.now();
  const before = check('bench:old' + index, old);
  const after = check('bench:new' + index, now, before);
  const checked = performance.now();
  const cpu = process.cpuUsage();
  const comparison = compareChecked(before, after);
  const compared = performance.now();
  const used = process.cpuUsage(cpu);
  const whole = process.cpuUsage(cold);
  workOrders(before.analysis, after.analysis);
  const ordered = performance.now();
  if (comparison.conductors.length !== 1) throw new Error('one conductor was moved');
  return { check: checked - started, compare: compared - checked, cpu: (used.user + used.system) / 1000, whole: (whole.user + whole.system) / 1000, order: ordered - compared };
}
`;

/** Another supply, a conductor on the other screw, a part under another name. */
function changed(text) {
  const now = text
    .replace(/(supply h10-tx[\s\S]*?output 16 V AC, )10 VA/, '$120 VA')
    .replace('h20-tx.a     to', 'h20-tx.b     to')
    .replaceAll('h30-cam', 'h30-eye');
  if (now === text) throw new Error('nothing was changed');
  return now;
}

export async function measureCompare(lines, row) {
  const folder = mkdtempSync(join(tmpdir(), 'ohmstead-bench-'));
  try {
    const old = recordOf(lines);
    const now = changed(old);
    const module = join(folder, 'round.mjs');
    const stdin = { contents: MEASURED, resolveDir: root, loader: 'js' };
    const options = { bundle: true, platform: 'node', format: 'esm', target: 'node20', logLevel: 'error' };
    const banner = {
      js: "import { createRequire as req } from 'node:module'; const require = req(import.meta.url);",
    };
    await build({
      ...options,
      stdin,
      banner,
      nodePaths: [join(root, 'node_modules')],
      mainFields: ['module', 'main'],
      conditions: ['import'],
      outfile: module,
    });
    const { round, versions } = await import(pathToFileURL(module).href);
    // What this has loaded and read the library for, the reading of both in full finds ready.
    const short = versions(old, now);
    const [first, ...rounds] = Array.from({ length: ROUNDS }, (_, index) => round(old, now, index));
    const middle = (of) => rounds.map(of).sort((a, b) => a - b)[Math.floor(rounds.length / 2)];
    const ms = (value) => `${value.toFixed(0)} ms`;
    const cpu = `${ms(middle((one) => one.cpu))} of CPU`;
    const whole = first.check + first.compare;
    row(`comparing two texts for the first time, ${lines} lines`, ms(short.time), `${ms(short.cpu)} of CPU`);
    row(`reading both in full and comparing them, ${lines} lines`, ms(whole), `${ms(first.whole)} of CPU`);
    row(`comparing two read records, ${lines} lines`, ms(middle((one) => one.compare)), cpu);
    row(`  and both work orders`, ms(middle((one) => one.order)));
    row(`  reading both before it`, ms(middle((one) => one.check)));
    writeFileSync(join(folder, 'old.wiring'), old);
    writeFileSync(join(folder, 'new.wiring'), now);
    const started = performance.now();
    const command = join(root, 'packages/cli/bin/ohmstead.js');
    const run = spawnSync(process.execPath, [
      command,
      'compare',
      join(folder, 'old.wiring'),
      join(folder, 'new.wiring'),
    ]);
    row(`ohmstead compare, from the start, ${lines} lines`, ms(performance.now() - started), `status ${run.status}`);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

// By itself: node test/bench/compare.mjs
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await measureCompare(10_000, (...cells) => console.log(cells.join('  ')));
}
