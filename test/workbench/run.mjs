/**
 * `npm run test:workbench [-- --build] [-- --picture PATH] [-- vitest's own arguments]`
 *
 * Installs what is missing, packages the extension where there is none (or with `--build`), and runs the tests of
 * this folder. With OHMSTEAD_SCREENSHOTS=1 there is a picture of what each service shows. Whatever a test process leaves
 * behind, because it was killed, is ended and removed here.
 */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { installWorkbench } from './install.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
const vsix = join(root, 'packages', 'extension', 'dist', 'ohmstead.vsix');
const vitest = join(root, 'node_modules', 'vitest', 'vitest.mjs');
const tsc = join(root, 'node_modules', 'typescript', 'bin', 'tsc');

const { build, picture, rest } = readArguments(process.argv.slice(2));
installWorkbench();
if (build || !existsSync(vsix)) {
  must('npm', ['run', '--silent', 'package']);
}
if (!existsSync(vsix)) {
  throw new Error(`npm run package wrote no ${vsix}`);
}
must(process.execPath, [tsc, '-p', join(here, 'tsconfig.json')]);
process.exitCode = await runTests();

function readArguments(args) {
  const rest = [];
  let build = false;
  let picture;
  for (let index = 0; index < args.length; index++) {
    if (args[index] === '--build') {
      build = true;
    } else if (args[index] === '--picture') {
      index++;
      if (!args[index]) {
        throw new Error('--picture needs the path of the picture to write');
      }
      picture = resolve(args[index]);
    } else {
      rest.push(args[index]);
    }
  }
  return { build, picture, rest };
}

function must(command, args) {
  const { status, error } = spawnSync(command, args, { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] });
  if (status !== 0) {
    console.error(`${command} ${args.join(' ')} failed${error ? `: ${error.message}` : ''}`);
    process.exit(status ?? 1);
  }
}

async function runTests() {
  // Short, because sockets are made below it and a socket's path may have no more than 107 letters.
  const temp = mkdtempSync(join(tmpdir(), 'ohm-'));
  const env = { ...process.env, OHMSTEAD_WORKBENCH_TMP: temp, OHMSTEAD_VSIX: vsix };
  if (picture) {
    env.OHMSTEAD_PICTURE = picture;
  }
  const child = spawn(process.execPath, [vitest, 'run', '--config', join(here, 'vitest.config.ts'), ...rest], {
    cwd: root,
    env,
    stdio: ['ignore', 'inherit', 'inherit'],
  });
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
    process.on(signal, () => child.kill(signal));
  }
  try {
    return await new Promise((done) => child.once('close', (code) => done(code ?? 1)));
  } finally {
    endGroupsIn(temp);
    rmSync(temp, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 });
  }
}

/** Each server writes an empty file named after its process group when it starts, and removes it when it has ended. */
function endGroupsIn(folder) {
  for (const name of readdirSync(folder)) {
    const group = /^(\d+)\.group$/.exec(name)?.[1];
    if (group) {
      try {
        process.kill(-Number(group), 'SIGKILL');
      } catch {
        // It has ended by itself.
      }
    }
  }
}
