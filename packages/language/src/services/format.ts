/**
 * Formatting as a function of the text alone. Lines are never split, joined or moved: indentation, the spaces inside a line,
 * blank lines and the case of some words are all that changes, and a statement that is not understood stays as it is.
 */

import { readsUnits, unitCase } from './format-words.js';
import { readingCells } from './reading-words.js';
import { isIndented, type Line, scan, startsStatement, type Token } from './scan.js';

export interface FormatOptions {
  /** Columns of a tab in the text as written; only tells whether a line was indented deeper than another. */
  readonly tabSize?: number;
}

export interface Refusal {
  readonly refused: string;
}

/** A replacement of the text between two offsets. */
export interface TextChange {
  readonly start: number;
  readonly end: number;
  readonly newText: string;
}

const INDENT = '    ';

/** A line as it will be written; `cells` are its columns where it is a conductor line, `reading` those of a reading. */
interface Laid {
  readonly line: Line;
  readonly indent: string;
  text: string;
  readonly comment: string;
  readonly cells?: readonly string[];
  readonly reading?: readonly string[];
  /** As written: neither laid out nor aligned. */
  readonly kept: boolean;
}

/** The formatted text, or why it was refused. Formatting what it gives changes nothing more. */
export function formatText(text: string, options: FormatOptions = {}): string | Refusal {
  const changes = formatChanges(text, options);
  return 'refused' in changes ? changes : applyChanges(text, changes);
}

/** The changes that format a text, in order, one for each line that changes. */
export function formatChanges(text: string, options: FormatOptions = {}): readonly TextChange[] | Refusal {
  const lines = scan(text);
  const laid = statementsOf(lines).flatMap((statement) => layStatement(text, statement, options.tabSize ?? 4));
  alignConductors(laid);
  alignReadings(laid);
  alignComments(laid);
  const changes = changesOf(text, laid);
  const formatted = applyChanges(text, changes);
  if (substance(scan(formatted)) !== substance(lines)) {
    return { refused: 'Formatting would have changed more than white space and case, so nothing was changed.' };
  }
  return changes;
}

export function applyChanges(text: string, changes: readonly TextChange[]): string {
  let at = 0;
  let result = '';
  for (const change of changes) {
    result += text.slice(at, change.start) + change.newText;
    at = change.end;
  }
  return result + text.slice(at);
}

/** Cuts lines into statements as the parser does: at unindented statement words, and where braces are balanced. */
function statementsOf(lines: readonly Line[]): Line[][] {
  const statements: Line[][] = [];
  let depth = 0;
  let continued = false;
  for (const line of lines) {
    const fresh = startsStatement(line) && !isIndented(line);
    const between = depth <= 0 && !continued && codeOf(line).length > 0;
    if (fresh || between || statements.length === 0) {
      statements.push([]);
      depth = 0;
    }
    statements.at(-1)!.push(line);
    for (const token of line.tokens) depth += braceStep(token);
    const last = codeOf(line).at(-1);
    if (last) continued = goesOn(last, depth);
  }
  return statements;
}

/** After these, outside braces, the next line belongs to the same statement. */
const GOES_ON = new Set([',', ':', 'in', 'from', 'to', 'on', 'at', 'with', 'because', 'per', 'or', 'of', '.']);

function goesOn(last: Token, depth: number): boolean {
  return last.text === ',' || (depth <= 0 && GOES_ON.has(last.text.toLowerCase()));
}

function codeOf(line: Line): readonly Token[] {
  return line.tokens.filter((token) => token.kind !== 'comment');
}

function braceStep(token: Token): number {
  if (token.kind !== 'mark') return 0;
  return token.text === '{' ? 1 : token.text === '}' ? -1 : 0;
}

/** Whether a statement's braces match and nothing in it is broken; a statement of comments alone is understood. */
function isUnderstood(lines: readonly Line[]): boolean {
  let depth = 0;
  for (const line of lines) {
    for (const token of line.tokens) {
      if (token.kind === 'broken') return false;
      depth += braceStep(token);
      if (depth < 0) return false;
    }
  }
  const first = lines.find((line) => codeOf(line).length > 0);
  return depth === 0 && (first === undefined || startsStatement(first));
}

function layStatement(text: string, lines: readonly Line[], tabSize: number): Laid[] {
  if (!isUnderstood(lines)) return lines.map((line) => keep(text, line));
  const statement = lines.find((line) => codeOf(line).length > 0)?.tokens[0]?.text.toLowerCase() ?? '';
  const typed = lines.some((line) => startsStatement(line) && line.tokens[1]?.text.toLowerCase() === 'type');
  let depth = 0;
  let owner: { column: number; indent: string } | undefined;
  let continued = false;
  return lines.map((line) => {
    const code = codeOf(line);
    const overLines = line.tokens.some((token) => token.kind === 'comment' && /[\r\n]/.test(token.text));
    const commentFirst = code.length > 0 && line.tokens[0]!.kind === 'comment';
    const level = depth - closersFirst(line);
    let indent = INDENT.repeat(level);
    const column = columnOf(text, line, tabSize);
    if (continued && owner) indent = column > owner.column ? `${owner.indent}${INDENT}` : owner.indent;
    else if (code.length > 0) owner = { column, indent };
    const kept = overLines || commentFirst;
    const here = typed && depth === 1 ? 'type' : statement;
    const laid = kept ? keep(text, line) : layLine(line, indent, here, depth, continued);
    for (const token of line.tokens) depth += braceStep(token);
    if (code.length > 0) continued = goesOn(code.at(-1)!, depth);
    return laid;
  });
}

function keep(text: string, line: Line): Laid {
  return { line, indent: '', text: text.slice(line.start, line.end), comment: '', kept: true };
}

/** How many `}` a line starts with. */
function closersFirst(line: Line): number {
  const other = line.tokens.findIndex((token) => token.text !== '}');
  return other < 0 ? line.tokens.length : other;
}

function columnOf(text: string, line: Line, tabSize: number): number {
  let column = 0;
  const first = line.tokens[0]?.start ?? line.start;
  for (let at = line.start; at < first; at++) column += text[at] === '\t' ? tabSize - (column % tabSize) : 1;
  return column;
}

function layLine(line: Line, indent: string, statement: string, depth: number, continued: boolean): Laid {
  const trailing = line.tokens.at(-1)?.kind === 'comment' && line.tokens.length > 1 ? line.tokens.at(-1)! : undefined;
  const tokens = trailing ? line.tokens.slice(0, -1) : line.tokens;
  const words = wordsOf(tokens, statement, depth, continued);
  const cells = statement === 'run' && depth === 1 && !continued ? conductorCells(words) : undefined;
  const reading = statement === 'readings' && depth === 1 && !continued ? readingCells(words) : undefined;
  return { line, indent, text: words.join(' '), comment: trailing?.text.trimEnd() ?? '', cells, reading, kept: false };
}

/** A line's tokens put together as words with one space between them. */
function wordsOf(tokens: readonly Token[], statement: string, depth: number, continued: boolean): string[] {
  const words: string[] = [];
  const first = tokens[0]?.text.toLowerCase() ?? '';
  let level = depth;
  tokens.forEach((token, index) => {
    const startsLine = depth === 0 && !continued;
    const units = readsUnits(statement, level, continued ? '' : first);
    const written = caseOf(tokens, index, startsLine, units, statement);
    level += braceStep(token);
    if (words.length > 0 && sticks(tokens, index, level)) words[words.length - 1] += written;
    else words.push(written);
  });
  return words;
}

function caseOf(
  tokens: readonly Token[],
  index: number,
  startsLine: boolean,
  units: boolean,
  statement: string,
): string {
  const token = tokens[index]!;
  if (token.kind === 'comment') return token.text.trimEnd();
  if (token.kind !== 'word') return token.text;
  const lower = token.text.toLowerCase();
  if (startsLine && index === 0) return lower;
  if (startsLine && index === 1 && lower === 'type' && tokens[2]?.kind === 'word') return lower;
  const over =
    statement === 'readings' && lower === 'ol' && tokens[index + 1]?.text !== '.' && tokens[index - 1]?.text !== '.';
  return over ? 'OL' : ((units ? unitCase(tokens, index) : undefined) ?? token.text);
}

/** Whether a token is written directly after the one before it. */
function sticks(tokens: readonly Token[], index: number, level: number): boolean {
  const token = tokens[index]!;
  const before = tokens[index - 1];
  if (before === undefined) return false;
  if (isBrace(token) || isBrace(before)) return false;
  if (token.kind === 'comment' || before.kind === 'comment') return false;
  const aroundDigitComma = (comma: number): boolean =>
    tokens[comma - 1]?.kind === 'number' && tokens[comma + 1]?.kind === 'number' && tokens[comma + 1]!.glued;
  if (token.text === ',') return aroundDigitComma(index) ? token.glued : true;
  if (before.text === ',') return aroundDigitComma(index - 1) && token.glued;
  const isColon = (mark: Token): boolean => mark.kind === 'mark' && mark.text === ':' && level === 0;
  if (isColon(token) || isColon(before)) return false;
  if (token.kind === 'string' || before.kind === 'string') return false;
  return token.glued;
}

function isBrace(token: Token): boolean {
  return token.kind === 'mark' && (token.text === '{' || token.text === '}');
}

/** `red  a.b  to  c.d` or `red  spare` as columns. */
function conductorCells(words: readonly string[]): readonly string[] | undefined {
  if (words.some((word) => /["{}]/.test(word))) return undefined;
  if (words.slice(0, -1).some((word) => word.includes(','))) return undefined;
  if (words.length === 4 && words[2]!.toLowerCase() === 'to') return words;
  if (words.length === 2 && /^spare,?$/i.test(words[1]!)) return words;
  return undefined;
}

/** Sets the conductor lines of each run in columns, two spaces apart. */
function alignConductors(laid: readonly Laid[]): void {
  let run: Laid[] = [];
  const finish = (): void => {
    const widths = [0, 1].map((column) =>
      Math.max(0, ...run.map(({ cells }) => (cells!.length > column + 1 ? cells![column]!.length : 0))),
    );
    for (const one of run) {
      const [colour, from, to, end] = one.cells!;
      const columns = [colour!.padEnd(widths[0]!), end === undefined ? from! : from!.padEnd(widths[1]!), to, end];
      one.text = columns.filter((cell) => cell !== undefined).join('  ');
    }
    run = [];
  };
  for (const one of laid) {
    if (one.cells) run.push(one);
    else if (one.kept || one.indent === '') {
      if (one.line.tokens.length > 0) finish();
    }
  }
  finish();
}

/** Sets the readings of each block in columns, two spaces apart: how the house stood, where, what was shown. */
function alignReadings(laid: readonly Laid[]): void {
  let block: Laid[] = [];
  const finish = (): void => {
    const widths = [0, 1].map((column) => Math.max(0, ...block.map(({ reading }) => reading![column]!.length)));
    for (const one of block) {
      const [state, where, shown] = one.reading!;
      one.text = [state!.padEnd(widths[0]!), where!.padEnd(widths[1]!), shown].join('  ');
    }
    block = [];
  };
  for (const one of laid) {
    if (one.reading) block.push(one);
    else if (one.indent === '' && one.line.tokens.length > 0) finish();
  }
  finish();
}

/** Trailing comments of neighbouring lines stand in one column, two spaces after the longest line. */
function alignComments(laid: readonly Laid[]): void {
  let group: Laid[] = [];
  const width = (one: Laid): number => one.indent.length + one.text.length;
  const finish = (): void => {
    const widest = Math.max(0, ...group.map(width));
    for (const one of group) one.text += `${' '.repeat(widest - width(one) + 2)}${one.comment}`;
    group = [];
  };
  for (const one of laid) {
    if (one.comment !== '' && group.at(-1)?.indent !== one.indent) finish();
    if (one.comment === '') finish();
    else group.push(one);
  }
  finish();
}

/** At most one blank line in a row, none at either end, and a line end after the last line. */
function changesOf(text: string, laid: readonly Laid[]): TextChange[] {
  const changes: TextChange[] = [];
  const usual = laid.find((one) => one.line.eol !== '')?.line.eol ?? '\n';
  const isBlank = (one: Laid): boolean => one.line.tokens.length === 0;
  const last = laid.findLastIndex((one) => !isBlank(one));
  laid.forEach((one, index) => {
    const { start, end, eol } = one.line;
    const dropped = isBlank(one) && (index === 0 || index > last || isBlank(laid[index - 1]!));
    const written = dropped || isBlank(one) ? '' : one.indent + one.text;
    const newText = dropped ? '' : written + (index === last && eol === '' ? usual : eol);
    if (newText !== text.slice(start, end + eol.length)) changes.push({ start, end: end + eol.length, newText });
  });
  return changes;
}

/** What formatting must not change: every token in its line, but for the case of words and the space at a comment's end. */
function substance(lines: readonly Line[]): string {
  return lines
    .filter((line) => line.tokens.length > 0)
    .map((line) =>
      line.tokens
        .map((token) => (token.kind === 'word' ? token.text.toLowerCase() : token.text.trimEnd()))
        .join('\u0001'),
    )
    .join('\u0002');
}
