/** Where the lines of a text are, put together from its stretches, so that an edit costs only what it touches. */

import { lastIndex } from './search.js';

export interface Position {
  /** From 0. */
  readonly line: number;
  /** From 0, in UTF-16 units. */
  readonly character: number;
}

/** A stretch of a text: where it starts, and where its lines start within it but for the first. */
interface StretchOfLines {
  readonly base: number;
  readonly lines: readonly number[];
}

const LINE_END = /\r\n?|\n/g;

/** Where the lines of a stretch start within it, but for the first. */
export function lineStartsIn(text: string): readonly number[] {
  const starts: number[] = [];
  LINE_END.lastIndex = 0;
  for (let end = LINE_END.exec(text); end; end = LINE_END.exec(text)) starts.push(LINE_END.lastIndex);
  return starts;
}

/** Lines and offsets of one text. What lies beyond it, or within a line's end, is told as the nearest place before that. */
export class PlacedLines {
  readonly #text: string;
  readonly #stretches: readonly StretchOfLines[];
  /** By stretch: the number of the line that it starts on. */
  readonly #firstLines: readonly number[];

  /** The stretches are those of the whole text in order, and none starts within a line's end. */
  constructor(text: string, stretches: readonly StretchOfLines[]) {
    this.#text = text;
    this.#stretches = stretches;
    let line = 0;
    this.#firstLines = stretches.map(({ lines }) => {
      const first = line;
      line += lines.length;
      return first;
    });
  }

  positionAt(offset: number): Position {
    const within = Math.max(0, Math.min(offset, this.#text.length));
    const index = lastIndex(this.#stretches.length, (at) => this.#stretches[at]!.base <= within);
    const { base, lines } = this.#stretches[index]!;
    const inside = lastIndex(lines.length, (at) => lines[at]! <= within - base);
    const line = this.#firstLines[index]! + inside + 1;
    const start = this.#startOf(line);
    return { line, character: this.#beforeLineEnd(within, start) - start };
  }

  offsetAt({ line, character }: Position): number {
    if (line < 0) return 0;
    const start = this.#startOf(line);
    return this.#beforeLineEnd(Math.min(start + Math.max(0, character), this.#startOf(line + 1)), start);
  }

  /** The text's end for lines behind its last. */
  #startOf(line: number): number {
    // A stretch that starts within a line does not say where that line starts.
    const index = lastIndex(this.#stretches.length, (at) => this.#firstLines[at]! < line);
    if (index < 0) return 0;
    const { base, lines } = this.#stretches[index]!;
    const start = lines[line - this.#firstLines[index]! - 1];
    return start === undefined ? this.#text.length : base + start;
  }

  #beforeLineEnd(offset: number, start: number): number {
    let before = offset;
    while (before > start && isLineEnd(this.#text.charCodeAt(before - 1))) before--;
    return before;
  }
}

function isLineEnd(character: number): boolean {
  return character === 10 || character === 13;
}
