/** When records are checked: at once after a pause, together after a burst, and never a text that a newer one has replaced. */

/** Edits that follow one another faster than this, in ms, while one of them still waits for its check, are one burst. */
const BURST = 15;
/** However long a burst lasts, findings are not older than this, in ms. */
const LONGEST_WAIT = 250;

export interface CheckSteps {
  /** Reads a record's text. */
  read(uri: string): void;
  /** Solves and judges what was read, and says what was found. */
  check(uri: string): void;
}

export class CheckQueue {
  readonly #steps: CheckSteps;
  readonly #waiting = new Set<string>();
  /** Has been read and waits for its check, unless an edit comes first. */
  #read: string | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #lastAsked = Number.NEGATIVE_INFINITY;
  #firstWaiting = 0;

  constructor(steps: CheckSteps) {
    this.#steps = steps;
  }

  /** Asks for checks; a record that is waiting already is checked once. */
  add(uris: readonly string[]): void {
    if (uris.length === 0) return;
    const now = Date.now();
    const isBusy = this.#waiting.size > 0 || this.#read !== undefined;
    if (this.#waiting.size === 0) this.#firstWaiting = now;
    for (const uri of uris) this.#waiting.add(uri);
    const inBurst = isBusy && now - this.#lastAsked < BURST;
    this.#lastAsked = now;
    const left = LONGEST_WAIT - (now - this.#firstWaiting);
    // Zero still lets messages that have arrived already come first.
    this.#schedule(inBurst ? Math.max(0, Math.min(BURST, left)) : 0);
  }

  /** Forgets a record that is gone. */
  drop(uri: string): void {
    this.#waiting.delete(uri);
    if (this.#read === uri) this.#read = undefined;
  }

  #schedule(ms: number): void {
    if (this.#timer !== undefined) clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#next(), ms);
  }

  /** One step of one record at a time, so that edits that arrive in between are seen before the next. */
  #next(): void {
    this.#timer = undefined;
    const read = this.#read;
    this.#read = undefined;
    if (read !== undefined && !this.#waiting.has(read)) this.#steps.check(read);
    else {
      const [uri] = this.#waiting;
      if (uri === undefined) return;
      this.#waiting.delete(uri);
      this.#steps.read(uri);
      this.#read = uri;
    }
    if (this.#timer === undefined && (this.#read !== undefined || this.#waiting.size > 0)) this.#schedule(0);
  }
}
