/** A workspace of 1,000 files of 100 lines that all import one: until it is ready, what an edit costs, what stays in memory. */

import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { connect, cpuMs, openIn, percentile, residentMegabytes, sendEdit, typeInto } from './peer.mjs';
import { keystrokes, recordOf } from './records.mjs';

const FILES = 1000;
const LINES = 100;
/** Files that somebody has open, with the one that all import beside them. */
const OPEN = 10;
const SHARED = 'shared/habits.wiring';

export async function measureWorkspace(args, row) {
  const folder = mkdtempSync(join(tmpdir(), 'ohmstead-bench-'));
  try {
    writeFiles(folder);
    await measure(args, folder, row);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function writeFiles(folder) {
  const text = recordOf(LINES).replace(/^wiring .*$/m, `import "${SHARED}"`);
  mkdirSync(join(folder, 'shared'));
  writeFileSync(
    join(folder, SHARED),
    'place street\ncable type old-bell "Old bell wire" {\n    conductors 20 AWG red, white\n}\n',
  );
  for (let index = 0; index < FILES; index++) writeFileSync(join(folder, `house-${index}.wiring`), text);
}

async function measure(args, folder, row) {
  const ms = (value) => `${value.toFixed(1)} ms`;
  const uriOf = (name) => pathToFileURL(join(folder, name)).href;
  const workspaceFolders = [{ uri: pathToFileURL(folder).href, name: 'bench' }];
  const server = Object.assign(await connect(args, { workspaceFolders }), { saysAnalysed: true });
  const began = performance.now();
  const cpuBefore = cpuMs(server.pid);
  const symbols = await server.connection.sendRequest('workspace/symbol', { query: 'h1-tx' });
  if (symbols.length === 0) throw new Error('the workspace has no such symbol');
  row(
    `workspace of ${FILES} files, every name known`,
    ms(performance.now() - began),
    `CPU ${ms(cpuMs(server.pid) - cpuBefore)}`,
  );
  row('  in memory then', `${residentMegabytes(server.pid).toFixed(0)} MB`);
  const again = performance.now();
  await server.connection.sendRequest('workspace/symbol', { query: 'h2-chime' });
  row('  asked again', ms(performance.now() - again));

  const open = (name) => openIn(server, uriOf(name), readFileSync(join(folder, name), 'utf8'));
  const opened = [];
  for (let index = 0; index < OPEN; index++) opened.push((await open(`house-${index}.wiring`)).document);
  const edits = keystrokes(opened[0].getText(), 50);
  const own = await typeInto(server, opened[0], edits, { warmUp: 10 });
  row(`  an edit in one of ${OPEN} open files, p95`, ms(percentile(own.times, 0.95)), `CPU ${ms(own.cpu)}`);

  const shared = (await open(SHARED)).document;
  const name = shared.getText().indexOf('street') + 'street'.length;
  const letters = Array.from({ length: 30 }, (_, index) =>
    index % 2 === 0 ? { start: name, end: name, text: 's' } : { start: name, end: name + 1, text: '' },
  );
  const all = await typeUntilAll(server, shared, letters, opened);
  row(
    `  an edit in the file that all import, until all ${OPEN + 1} open files are right, p95`,
    ms(percentile(all, 0.95)),
  );

  const renaming = performance.now();
  const edit = await server.connection.sendRequest('textDocument/rename', {
    textDocument: { uri: shared.uri },
    position: shared.positionAt(name - 1),
    newName: 'lane',
  });
  row(
    '  renaming what the shared file declares',
    ms(performance.now() - renaming),
    `${Object.keys(edit.changes).length} files`,
  );
  row('  in memory at the end', `${residentMegabytes(server.pid).toFixed(0)} MB`);
  await server.stop();
}

/** Milliseconds until every open file has been published after each edit. */
async function typeUntilAll(server, shared, edits, others) {
  const times = [];
  for (const edit of edits) {
    const left = new Set([shared.uri, ...others.map(({ uri }) => uri)]);
    const done = new Promise((resolve) => {
      server.connection.onNotification('ohmstead/analysed', ({ uri }) => {
        left.delete(uri);
        if (left.size === 0) resolve();
      });
    });
    const began = performance.now();
    sendEdit(server, shared, edit);
    await done;
    times.push(performance.now() - began);
  }
  return times;
}
