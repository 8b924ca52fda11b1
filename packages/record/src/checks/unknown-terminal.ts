import { didYouMean, quote, quotedList } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

export interface UnknownTerminalFacts {
  readonly part: string;
  /** Absent where a part that has terminals is named without one. */
  readonly terminal?: string;
  /** The terminals that the part has; empty for a splice. */
  readonly has: readonly string[];
  readonly nearest: readonly string[];
  /** Several that the record names of the part, where every one of them is unknown. */
  readonly terminals?: readonly string[];
}

export const unknownTerminal = defineReaderCheck<UnknownTerminalFacts>({
  code: 'unknown-terminal',
  severity: 'error',
  title: 'A part has no such terminal',
  sentence({ part, terminal, has, nearest, terminals }) {
    if (has.length === 0) return `${quote(part)} is a splice, a terminal by itself: write ${quote(part)} alone.`;
    const known = has.length === 1 ? `its terminal is ${quotedList(has)}` : `its terminals are ${quotedList(has)}`;
    if (terminals !== undefined)
      return `${quote(part)} has no terminals ${quotedList(terminals)}: ${known}. Is its type the right one?`;
    if (terminal === undefined) return `Say which terminal of ${quote(part)}: ${known}.`;
    return `${quote(part)} has no terminal ${quote(terminal)}: ${known}.${didYouMean(nearest)}`;
  },
});
