/**
 * What an explanation costs the processor by the size of the record: predictions of all readings under every hypothesis, weights, and the next
 * step. Afresh, and with one reading more in a record that has been explained before. Rows of houses that nothing joins, and one house that is
 * all one piece.
 *
 *   node test/bench/explain-size.mjs
 */

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { recordOf } from './records.mjs';

const at = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'explain-size-'));
const entry = join(folder, 'entry.ts');
writeFileSync(
  entry,
  `export { analysisOf } from '${at('test/explain/records.ts')}';
export { withReadings } from '${at('test/explain/hunt.ts')}';
export { explain } from '${at('packages/record/src/index.ts')}';
export { studyOf } from '${at('packages/record/src/explain/study.ts')}';`,
);
const outfile = join(folder, 'explain-size.mjs');
await build({
  entryPoints: [entry],
  outfile,
  bundle: true,
  platform: 'node',
  format: 'esm',
  logLevel: 'error',
  nodePaths: [at('node_modules')],
  alias: {
    '@ohmstead/circuit': at('packages/circuit/src/index.ts'),
    '@ohmstead/record': at('packages/record/src/index.ts'),
  },
  banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);" },
});
const { analysisOf, explain, studyOf, withReadings } = await import(pathToFileURL(outfile).href);
rmSync(folder, { recursive: true });

/** One transformer, a push and a buzzer at each of so many doors. */
function onePiece(doors) {
  const lines = ['wiring "All on one transformer"', 'place cellar', 'supply tx : bell-transformer in cellar {'];
  lines.push('    output 16 V AC, 30 VA', '    no-load 19 V', '}', 'splice hot in cellar', 'splice back in cellar');
  lines.push('pigtail tx.a to hot', 'pigtail tx.b to back');
  for (let door = 1; door <= doors; door++) {
    lines.push(
      `place d${door}`,
      `device push${door} : push-button in d${door}`,
      `device buzz${door} : buzzer in d${door}`,
    );
    lines.push(`splice joint${door} in cellar`, `run up${door} : 18/2 from cellar to d${door}, ${5 + (door % 9)} m {`);
    lines.push(`    red hot to push${door}.a`, `    white joint${door} to push${door}.b`, '}');
    lines.push(`run out${door} : 18/2 from cellar to d${door}, ${6 + (door % 7)} m {`);
    lines.push(`    red joint${door} to buzz${door}.a`, `    white back to buzz${door}.b`, '}');
  }
  return lines.join('\n');
}

const end = (part, terminal) => ({ kind: 'end', end: { part, terminal } });
const across = (pressed, a, b, volts) => ({
  state: { kind: 'live', pressed },
  of: { kind: 'volts', between: [a, b], volts },
});
const signs = (pressed, part, shows) => ({ state: { kind: 'live', pressed }, of: { kind: 'sign', part, shows } });
const ofRow = [
  signs(['h1-cam'], 'h1-chime', 'silent'),
  across([], end('h1-tx', 'a'), end('h1-tx', 'b'), 19.5),
  across(['h1-cam'], end('h1-chime', 'trans'), end('h1-chime', 'front'), 0.1),
];
const ofPiece = [
  signs(['push1'], 'buzz1', 'silent'),
  across([], end('tx', 'a'), end('tx', 'b'), 18.8),
  across(['push1'], end('buzz1', 'a'), end('buzz1', 'b'), 0.1),
];

const records = [
  ['a row of houses', recordOf(36), ofRow, 25],
  ['a row of houses', recordOf(190), ofRow, 10],
  ['a row of houses', recordOf(1900), ofRow, 3],
  ['all one piece', onePiece(6), ofPiece, 10],
  ['all one piece', onePiece(40), ofPiece, 2],
];
const processor = () => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};
const timed = (work) => {
  const before = processor();
  work();
  return processor() - before;
};
const head = ['record', 'nodes', 'hypotheses', 'their steps', 'afresh, ms', 'one reading more, ms'];
const told = (cells) =>
  console.log(cells.map((cell, k) => (k === 0 ? cell.padEnd(16) : cell.padStart(head[k].length))).join('  '));
told(head);
records.forEach(([name, text, readings, times]) => {
  const analysis = analysisOf(text);
  const withThese = (count, parts) => ({ ...withReadings(analysis, readings.slice(0, count)), parts });
  const afresh = [];
  const more = [];
  for (let time = 0; time < times; time++) {
    // Another map of the parts is another house to the finder.
    const parts = new Map(analysis.parts);
    afresh.push(timed(() => explain(withThese(2, parts))));
    more.push(timed(() => explain(withThese(3, parts))));
  }
  const { house, hypotheses } = studyOf(analysis, [], false);
  const steps = hypotheses.reduce((sum, { variants }) => sum + variants.length, 0);
  const least = (list) => Math.min(...list).toFixed(1);
  told([name, house.nodes.length, hypotheses.length, steps, least(afresh), least(more)].map(String));
});
