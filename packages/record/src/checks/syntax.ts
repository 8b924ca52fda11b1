import { didYouMean, quote } from '../judging/words.js';
import { defineReaderCheck } from './types.js';

/** What a statement stumbled over. `found` is the text at that place; absent at the end of a line or of the file. */
export type SyntaxFacts =
  | {
      readonly what: 'expected';
      readonly expected: string;
      readonly found?: string;
      readonly after?: string;
      /** What to write, where it is known: "a measurement is `measured open 17.9 V`". */
      readonly mend?: string;
    }
  | { readonly what: 'not-a-statement'; readonly found: string; readonly nearest: readonly string[] }
  | {
      readonly what: 'unknown-fact';
      readonly found: string;
      readonly of: string;
      readonly nearest: readonly string[];
      /** Why it is not, and where it belongs: "it belongs on a device". */
      readonly mend?: string;
    }
  | { readonly what: 'repeated-fact'; readonly fact: string; readonly of: string }
  | { readonly what: 'decimal-comma'; readonly written: string; readonly write: string }
  | { readonly what: 'feet-and-inches'; readonly written: string; readonly write: string }
  | { readonly what: 'curly-quotes' }
  | { readonly what: 'unclosed-string' }
  | { readonly what: 'unclosed-comment' }
  | { readonly what: 'unclosed-block'; readonly of: string }
  /** Two figures side by side. */
  | { readonly what: 'no-comma'; readonly first: string; readonly second: string }
  /** Two figures of one measure in one fact: "volts". */
  | { readonly what: 'twice'; readonly fact: string; readonly measure: string }
  | { readonly what: 'split-name'; readonly written: string; readonly write: string }
  | { readonly what: 'hash-comment' }
  | { readonly what: 'merge-mark'; readonly found: string }
  | { readonly what: 'stray'; readonly found: string; readonly mend?: string };

export const syntax = defineReaderCheck<SyntaxFacts>({
  code: 'syntax',
  severity: 'error',
  title: 'A statement cannot be read',
  sentence(facts) {
    switch (facts.what) {
      case 'expected': {
        const where = facts.after === undefined ? '' : ` after ${quote(facts.after)}`;
        const instead = facts.found === undefined ? 'the line ends' : `this says ${quote(facts.found)}`;
        if (facts.mend !== undefined && facts.found !== undefined)
          return `${quote(facts.found)} does not belong here: ${facts.mend}.`;
        return `${facts.expected} belongs here${where}${facts.mend === undefined ? `; ${instead}` : `: ${facts.mend}`}.`;
      }
      case 'not-a-statement':
        return `${quote(facts.found)} does not start a statement.${didYouMean(facts.nearest)}`;
      case 'unknown-fact':
        return `${quote(facts.found)} is not a fact of ${facts.of}${facts.mend === undefined ? '' : `: ${facts.mend}`}.${didYouMean(facts.nearest)}`;
      case 'repeated-fact':
        return `${quote(facts.fact)} is already stated for ${/^(an?|this|these) /.test(facts.of) ? facts.of : quote(facts.of)}: keep the one that holds.`;
      case 'decimal-comma':
        return `${quote(facts.written)} can be read two ways: write ${facts.write}, or a space after the comma.`;
      case 'feet-and-inches':
        return `Write ${quote(facts.write)} in place of ${quote(facts.written)}.`;
      case 'curly-quotes':
        return 'Text stands in straight quotes: write " in place of the curly ones.';
      case 'unclosed-string':
        return 'This text has no closing quote on its line: put one at its end.';
      case 'unclosed-comment':
        return 'This comment is never closed: a `*/` is missing.';
      case 'unclosed-block':
        return `The braces of ${facts.of} are not closed: a \`}\` is missing before the next statement.`;
      case 'no-comma':
        return `Put a comma between ${quote(facts.first)} and ${quote(facts.second)}.`;
      case 'twice':
        return `${quote(facts.fact)} gives ${facts.measure} twice: keep the figure that holds.`;
      case 'split-name':
        return `A name is one word: write ${quote(facts.write)} in place of ${quote(facts.written)}.`;
      case 'hash-comment':
        return 'A comment starts with `//`: write that in place of `#`.';
      case 'merge-mark':
        return `${quote(facts.found)} marks two versions that could not be merged: keep what holds of both, and take the marks out.`;
      case 'stray':
        if (facts.mend !== undefined) return `${quote(facts.found)} does not belong here: ${facts.mend}.`;
        return `${quote(facts.found)} is one too many here: nothing in this statement takes it.`;
    }
  },
});
