/** The language server's process on a desktop. One is started before the client's code is loaded, so that both load at the same time. */

import { type ChildProcess, fork } from 'node:child_process';
import { createInterface } from 'node:readline';
import type { Readable } from 'node:stream';

/** In megabytes: what a keystroke in a long record makes is let go of before it would be kept, which takes a sixth of its time. */
const ROOM_FOR_NEW = '--max-semi-space-size=32';
/** A process that was told to exit and has not by then is ended. */
const GRACE_MILLISECONDS = 2000;

interface Log {
  info(line: string): void;
  error(line: string): void;
}

export class ServerProcess {
  private waiting: ChildProcess | undefined;
  private taken: ChildProcess | undefined;

  constructor(
    private readonly script: string,
    private readonly log: Log,
  ) {}

  /** Starts the one that the next client takes. */
  begin(): void {
    this.waiting ??= this.spawn();
  }

  /** The one that waits, or a new one where it has ended meanwhile. Throws where none can be started. */
  take(): ChildProcess {
    const { waiting } = this;
    this.waiting = undefined;
    endSoon(this.taken);
    this.taken = waiting?.connected ? waiting : this.spawn();
    if (this.taken.pid === undefined) throw new Error(`No process could be started for ${this.script}`);
    return this.taken;
  }

  end(): void {
    this.waiting?.kill();
    endSoon(this.taken);
    this.waiting = undefined;
    this.taken = undefined;
  }

  private spawn(): ChildProcess {
    const child = fork(this.script, ['--node-ipc', `--clientProcessId=${process.pid}`], {
      execArgv: [ROOM_FOR_NEW, ...(isDebugged() ? ['--nolazy', '--inspect=6009'] : [])],
      // The editor's own process is no Node by itself.
      env: { ...process.env, ELECTRON_RUN_AS_NODE: '1', ELECTRON_NO_ASAR: '1' },
      silent: true,
    });
    child.on('error', (problem) => this.log.error(`The language server's process: ${problem.message}`));
    forEachLine(child.stdout, (line) => this.log.info(line));
    forEachLine(child.stderr, (line) => this.log.error(line));
    return child;
  }
}

function endSoon(child: ChildProcess | undefined): void {
  if (!child || hasEnded(child)) return;
  const late = setTimeout(() => child.kill('SIGKILL'), GRACE_MILLISECONDS);
  child.once('exit', () => clearTimeout(late));
  late.unref();
}

const hasEnded = ({ exitCode, signalCode }: ChildProcess): boolean => exitCode !== null || signalCode !== null;

const isDebugged = (): boolean => process.execArgv.some((word) => /^--(debug|inspect)(-brk)?(=|$)/.test(word));

function forEachLine(input: Readable | null, take: (line: string) => void): void {
  if (input) createInterface({ input, crlfDelay: Number.POSITIVE_INFINITY }).on('line', take);
}
