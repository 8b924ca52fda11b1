/** Where a command runs. Nothing of this package but the entry knows the process, so that a test can run commands without starting one. */
export interface Surroundings {
  /** The working folder, absolute: paths that are given are meant, and paths that are told are told, from here. */
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** Whether `out` is shown on a terminal. */
  readonly isTerminal: boolean;
  out(text: string): void;
  err(text: string): void;
}

/** One sentence about what cannot be done, on standard error. */
export function complain(here: Surroundings, sentence: string): void {
  here.err(`ohmstead: ${sentence}\n`);
}
