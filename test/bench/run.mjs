/**
 * Speed over the real protocol, with the bundle that ships: keystroke to findings, requests, start-up, a workspace, sizes.
 * The peers of each figure are measured in the same run on the same content. CPU is that of the server process, in steps of 10 ms
 * over all keystrokes, so that it says little below 1 ms; it is what a busy machine disturbs least.
 *
 * `npm run bench [-- LINES…] [-- --no-workspace]`
 */

import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { measureCompare } from './compare.mjs';
import { jsonKeystrokes, jsonOf, schema, yamlKeystrokes, yamlOf } from './other-notations.mjs';
import { measurePanel } from './panel.mjs';
import { burst, completeIn, connect, hoverIn, openIn, percentile, typeInto } from './peer.mjs';
import { keystrokes, recordOf } from './records.mjs';
import { measureWorkspace } from './workspace.mjs';

const at = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const here = (path) => fileURLToPath(new URL(path, import.meta.url));
/** As the extension starts it on a desktop. */
const SERVER = ['--max-semi-space-size=32', at('packages/extension/dist/start-server.js'), '--stdio'];
const ECHO = [here('echo-server.mjs')];
const JSON_SERVER = [here('json-server.mjs')];
const YAML_SERVER = [at('node_modules/yaml-language-server/bin/yaml-language-server'), '--stdio'];
const WARM_UP = 10;
const STARTS = 15;

const rows = [];
const row = (what, figure, ratio = '') => rows.push([what, figure, ratio]);
const kilobytes = (bytes) => `${(bytes / 1024).toFixed(0)} KB`;
const ms = (value) => `${value.toFixed(1)} ms`;
const asked = process.argv.slice(2).filter((word) => /^\d+$/.test(word));

for (const lines of asked.length > 0 ? asked.map(Number) : [100, 1000, 10_000]) {
  const samples = lines > 2000 ? 30 : 60;
  const text = recordOf(lines);
  const edits = keystrokes(text, samples + WARM_UP);
  const peers = {
    echo: await typing(ECHO, 'ohmstead', text, edits),
    json: await typing(JSON_SERVER, 'json', jsonOf(lines), jsonKeystrokes(jsonOf(lines), samples + WARM_UP)),
    yaml: await typing(YAML_SERVER, 'yaml', yamlOf(lines), yamlKeystrokes(yamlOf(lines), samples + WARM_UP)),
  };
  const own = await measured(text, edits);
  const count = text.split('\n').length - 1;
  for (const share of [0.5, 0.95]) {
    const mine = percentile(own.times, share);
    const ratios = Object.entries(peers).map(([name, { times }]) => {
      const its = percentile(times, share);
      return `${(mine / its).toFixed(2)} x ${name} (${ms(its)})`;
    });
    row(`keystroke to findings, ${count} lines, p${share * 100}`, ms(mine), ratios.join(', '));
  }
  if (own.cpu !== undefined) {
    const others = Object.entries(peers).map(([name, { cpu }]) => `${name} ${ms(cpu)}`);
    row(`  of CPU, each`, ms(own.cpu), others.join(', '));
  }
  row(`opening to first findings, ${count} lines`, ms(own.openMs));
  row(`burst of 21 keystrokes, ${count} lines`, ms(own.burstMs));
  for (const share of [0.5, 0.95]) {
    row(`completion after "to", ${count} lines, p${share * 100}`, ms(percentile(own.completions, share)));
    row(`hover on a supply after an edit, ${count} lines, p${share * 100}`, ms(percentile(own.hovers, share)));
  }
}

if (!process.argv.includes('--no-workspace')) await measureWorkspace(SERVER, row);

await measurePanel(1000, row);

await measureCompare(10_000, row);

const own = await starts(SERVER);
const bare = Array.from({ length: STARTS }, () => timeOf(() => spawnSync(process.execPath, ['-e', '0'])));
for (const share of [0.5, 0.95]) compare('spawn to initialize', share, own, bare, 'bare node');

const activated = activations();
for (const share of [0.5, 0.95]) {
  const of = (figure) => ms(percentile(activated.map(figure), share));
  const parts = `of which loading ${of(({ load }) => load)}, CPU ${of(({ cpu }) => cpu)}`;
  row(
    `activation of the extension, p${share * 100}`,
    of(({ load, activate }) => load + activate),
    parts,
  );
  row(
    `  from its beginning to the first findings, p${share * 100}`,
    of(({ findings }) => findings),
  );
}

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

/** A peer's times for the same content in its own notation. */
async function typing(args, languageId, text, edits) {
  const server = Object.assign(await connect(args), { languageId });
  if (languageId === 'yaml') {
    const settings = { yaml: { schemas: { [schema.file]: '*.yaml' }, validate: true } };
    server.settings.yaml = settings.yaml;
    server.connection.sendNotification('workspace/didChangeConfiguration', { settings });
  }
  const { document } = await openIn(server, `file:///bench/row.${languageId}`, text);
  const result = await typeInto(server, document, edits, { warmUp: WARM_UP });
  await server.stop();
  return result;
}

async function measured(text, edits) {
  const server = Object.assign(await connect(SERVER), { saysAnalysed: true });
  const { document, openMs } = await openIn(server, 'file:///bench/row.wiring', text);
  const { times, cpu } = await typeInto(server, document, edits, { warmUp: WARM_UP });
  const completions = await completeIn(server, document.uri, document.getText(), 40);
  const hovers = await hoverIn(server, document, edits.slice(0, 20));
  const burstMs = await burst(server, document, edits.slice(0, 21));
  await server.stop();
  return { openMs, times, cpu, completions, hovers, burstMs };
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

function activations() {
  return Array.from({ length: STARTS }, () =>
    JSON.parse(spawnSync(process.execPath, [here('activate-once.mjs')], { encoding: 'utf8' }).stdout),
  );
}

function timeOf(work) {
  const began = performance.now();
  work();
  return performance.now() - began;
}
