/** The built command, run within the test's own process or in one of its own. */
import { spawnSync } from 'node:child_process';
import type { main } from '../src/main.js';

const built = new URL('../dist/ohmstead.js', import.meta.url).href;
const { main: run } = (await import(built)) as { readonly main: typeof main };

/** What a person or a CI job starts. */
export const bin = new URL('../bin/ohmstead.js', import.meta.url).pathname;

export interface Run {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

export interface RunOptions {
  /** The working folder. */
  readonly cwd: string;
  /** Beside those of this process. */
  readonly env?: Readonly<Record<string, string>>;
}

/** The command with these arguments, as its own process would run it. */
export async function ohmstead(args: readonly string[], { cwd, env }: RunOptions): Promise<Run> {
  let out = '';
  let err = '';
  const status = await run(args, {
    cwd,
    env: { ...process.env, ...env },
    isTerminal: false,
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
  });
  return { status, out, err };
}

/** The same in a process of its own. */
export function ohmsteadProcess(args: readonly string[], { cwd, env }: RunOptions): Run {
  const { status, stdout, stderr } = spawnSync(process.execPath, [bin, ...args], {
    cwd,
    encoding: 'utf8',
    env: { ...process.env, ...env },
  });
  return { status, out: stdout, err: stderr };
}
