/**
 * Speed over the real protocol, with the bundle that ships: keystroke to findings, start-up, sizes.
 * The peer of each figure is measured in the same run: a server that does nothing but echo, and bare Node.
 */

import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { completeIn, connect, percentile, typeInto } from './peer.mjs';
import { keystrokes, recordOf } from './records.mjs';

const at = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const SERVER = [at('packages/extension/dist/server.cjs'), '--stdio'];
const ECHO = [fileURLToPath(new URL('echo-server.mjs', import.meta.url))];
const SAMPLES = 60;
const WARM_UP = 10;
const STARTS = 15;

const rows = [];
const row = (what, figure, ratio = '') => rows.push([what, figure, ratio]);
const kilobytes = (bytes) => `${(bytes / 1024).toFixed(0)} KB`;
const ms = (value) => `${value.toFixed(1)} ms`;

for (const lines of [100, 1000]) {
  const text = recordOf(lines);
  const edits = keystrokes(text, SAMPLES + WARM_UP);
  const own = await measured(SERVER, text, edits, true);
  const echo = await measured(ECHO, text, edits, false);
  const count = text.split('\n').length - 1;
  for (const share of [0.5, 0.95]) {
    compare(`keystroke to findings, ${count} lines`, share, own.times, echo.times);
  }
  row(`opening to first findings, ${count} lines`, ms(own.openMs), `${(own.openMs / echo.openMs).toFixed(1)} x echo`);
  row(`completion after "to", ${count} lines, p95`, ms(percentile(own.completions, 0.95)));
}

const own = await starts(SERVER);
const bare = Array.from({ length: STARTS }, () => timeOf(() => spawnSync(process.execPath, ['-e', '0'])));
for (const share of [0.5, 0.95]) compare('spawn to initialize', share, own, bare, 'bare node');

for (const folder of ['packages/cli/dist', 'packages/extension/dist', 'packages/extension']) {
  for (const name of existsSync(at(folder)) ? readdirSync(at(folder)).sort() : []) {
    const path = `${folder}/${name}`;
    if (/\.vsix$/.test(name)) row(path, kilobytes(statSync(at(path)).size));
    else if (/\/dist$/.test(folder) && /\.(cjs|js|css)$/.test(name)) {
      const content = readFileSync(at(path));
      row(path, kilobytes(content.length), `${kilobytes(gzipSync(content).length)} gzip`);
    }
  }
}

const widths = [0, 1, 2].map((column) => Math.max(...rows.map((cells) => cells[column].length)));
for (const [what, figure, ratio] of rows) {
  console.log(`${what.padEnd(widths[0])}  ${figure.padStart(widths[1])}  ${ratio}`.trimEnd());
}

function compare(what, share, own, peers, peer = 'echo') {
  const [mine, theirs] = [percentile(own, share), percentile(peers, share)];
  row(`${what}, p${share * 100}`, ms(mine), `${(mine / theirs).toFixed(1)} x ${peer} (${ms(theirs)})`);
}

async function measured(args, text, edits, isOwn) {
  const server = Object.assign(await connect(args), { saysAnalysed: isOwn });
  const uri = 'file:///bench/row.wiring';
  const { openMs, times } = await typeInto(server, uri, text, edits, { warmUp: WARM_UP });
  const completions = isOwn ? await completeIn(server, uri, text, SAMPLES) : [];
  await server.stop();
  return { openMs, times, completions };
}

async function starts(args) {
  const times = [];
  for (let index = 0; index < STARTS; index++) {
    const server = await connect(args);
    times.push(server.startMs);
    await server.stop();
  }
  return times;
}

function timeOf(work) {
  const began = performance.now();
  work();
  return performance.now() - began;
}
