/** When records are checked: at once after a pause, together after a burst, and never a text that a newer one has replaced. */

/** Edits that follow one another faster than this, in ms, are one burst. */
const BURST = 15;
/** However long a burst lasts, findings are not older than this, in ms. */
const LONGEST_WAIT = 250;

export class CheckQueue {
  readonly #check: (uri: string) => void;
  readonly #waiting = new Set<string>();
  #timer: ReturnType<typeof setTimeout> | undefined;
  #lastAsked = Number.NEGATIVE_INFINITY;
  #firstWaiting = 0;

  constructor(check: (uri: string) => void) {
    this.#check = check;
  }

  /** Asks for checks; a record that is waiting already is checked once. */
  add(uris: readonly string[]): void {
    if (uris.length === 0) return;
    const now = Date.now();
    if (this.#waiting.size === 0) this.#firstWaiting = now;
    for (const uri of uris) this.#waiting.add(uri);
    const inBurst = now - this.#lastAsked < BURST;
    this.#lastAsked = now;
    const left = LONGEST_WAIT - (now - this.#firstWaiting);
    // Zero still lets messages that have arrived already come first.
    this.#schedule(inBurst ? Math.max(0, Math.min(BURST, left)) : 0);
  }

  /** Forgets a record that is gone. */
  drop(uri: string): void {
    this.#waiting.delete(uri);
  }

  #schedule(ms: number): void {
    if (this.#timer !== undefined) clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#next(), ms);
  }

  /** One record at a time, so that edits that arrive in between are seen before the next. */
  #next(): void {
    this.#timer = undefined;
    const [uri] = this.#waiting;
    if (uri === undefined) return;
    this.#waiting.delete(uri);
    this.#check(uri);
    if (this.#waiting.size > 0 && this.#timer === undefined) this.#schedule(0);
  }
}
