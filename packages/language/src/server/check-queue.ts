/** When records are checked: at once after a pause, together after a burst, and never a text that a newer one is about to replace. */

/** Edits that follow one another faster than this, in ms, while one of them still waits for its check, are one burst. */
const BURST = 15;
/** However long somebody types on without a pause, findings are not older than this, in ms, but for what a check itself takes. */
const LONGEST_WAIT = 250;

export interface CheckSteps {
  /** Reads a record's text. */
  read(uri: string): void;
  /** Solves and judges a record as it is now, reading it anew where it has changed since, and says what was found. */
  check(uri: string): void;
}

export class CheckQueue {
  readonly #steps: CheckSteps;
  readonly #waiting = new Set<string>();
  /** Since when, in ms, a record has not been checked as it is. */
  readonly #owed = new Map<string, number>();
  /** Has been read and waits for its check, unless an edit comes first. */
  #read: string | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #isDueAtOnce = false;
  #lastAsked = Number.NEGATIVE_INFINITY;

  constructor(steps: CheckSteps) {
    this.#steps = steps;
  }

  /** Asks for checks; a record that is waiting already is checked once. */
  add(uris: readonly string[]): void {
    if (uris.length === 0) return;
    const now = Date.now();
    const inBurst = this.#owed.size > 0 && now - this.#lastAsked < BURST;
    this.#lastAsked = now;
    for (const uri of uris) {
      this.#waiting.add(uri);
      if (!this.#owed.has(uri)) this.#owed.set(uri, now);
    }
    const [longest = now] = this.#owed.values();
    const left = LONGEST_WAIT - (now - longest);
    // Zero still lets messages that have arrived already come first.
    this.#schedule(inBurst ? Math.max(0, Math.min(BURST, left)) : 0);
  }

  /** Forgets a record that is gone. */
  drop(uri: string): void {
    this.#waiting.delete(uri);
    this.#owed.delete(uri);
    if (this.#read === uri) this.#read = undefined;
  }

  #schedule(ms: number): void {
    if (this.#timer !== undefined) {
      // Put off by every edit it would never come.
      if (ms === 0 && this.#isDueAtOnce) return;
      clearTimeout(this.#timer);
    }
    this.#isDueAtOnce = ms === 0;
    this.#timer = setTimeout(() => this.#next(), ms);
  }

  /** One step of one record at a time, so that edits that arrive in between are seen before the next. */
  #next(): void {
    this.#timer = undefined;
    const read = this.#read;
    this.#read = undefined;
    if (read !== undefined && (!this.#waiting.has(read) || this.#isOverdue(read))) {
      this.#waiting.delete(read);
      this.#owed.delete(read);
      this.#steps.check(read);
    } else {
      const [uri] = this.#waiting;
      if (uri === undefined) return;
      this.#waiting.delete(uri);
      this.#steps.read(uri);
      this.#read = uri;
    }
    if (this.#timer === undefined && (this.#read !== undefined || this.#waiting.size > 0)) this.#schedule(0);
  }

  #isOverdue(uri: string): boolean {
    return Date.now() - (this.#owed.get(uri) ?? Number.POSITIVE_INFINITY) >= LONGEST_WAIT;
  }
}
