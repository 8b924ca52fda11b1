/** Every way in which one token, one line or one statement of a record may be wrong, by kind. */

import { type ReadRecord, wiredTerminals } from './reading.js';

export interface Mutant {
  readonly kind: string;
  readonly text: string;
  /** Where and what, for a failing mutant: `12: 18/2 -> 24/2`. */
  readonly words: string;
}

interface Token {
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

const TOKEN = /\/\/[^\n]*|\/\*[\s\S]*?\*\/|"[^"\n]*"|[A-Za-z][\w-]*(?:\.[\w-]+)?|\d[\w./-]*|\S/g;

function tokensOf(text: string): readonly Token[] {
  return [...text.matchAll(TOKEN)]
    .map((found) => ({ text: found[0], start: found.index, end: found.index + found[0].length }))
    .filter((token) => !token.text.startsWith('//') && !token.text.startsWith('/*'));
}

export function mutantsOf(record: ReadRecord): readonly Mutant[] {
  return [
    ...atTokens(record),
    ...ofLines(record),
    ...ofStatements(record),
    ...ofConductors(record),
    ...ofSupplies(record),
    ...extraJumpers(record),
  ];
}

const STATEMENT =
  /^(wiring|profile|import|place|supply|device|splice|run|jumper|pigtail|box|ground|accept|cable|readings)\b/;

function replaced({ text }: ReadRecord, start: number, end: number, by: string, kind: string): Mutant {
  const line = text.slice(0, start).split('\n').length;
  const was = text.slice(start, end).trim().split('\n')[0]!;
  return {
    kind,
    text: text.slice(0, start) + by + text.slice(end),
    words: `${line}: ${was} -> ${by.trim().split('\n')[0]}`,
  };
}

const UNITS: Readonly<Record<string, readonly string[]>> = {
  V: ['A', 'VA', 'W'],
  VA: ['V', 'A', 'ohm'],
  W: ['V', 'mA'],
  A: ['mA', 'V'],
  mA: ['A', 'V'],
  m: ['ft', 'mm', 'V'],
  ft: ['m', 'in'],
  ohm: ['kohm', 'm'],
  AC: ['DC'],
  DC: ['AC'],
  AWG: ['mm2'],
};
const GAUGES = ['24', '22', '20', '14'];
const COLOURS = ['red', 'white', 'green', 'blue'];
const SETTINGS = ['mechanical', 'electronic', 'none'];
const DEVICE_TYPES = ['push-button', 'lit-push-button', 'one-note-chime', 'two-note-chime', 'buzzer', 'video-doorbell'];
const SUPPLY_TYPES = ['bell-transformer', 'plug-in-transformer', 'dc-adaptor', 'tri-volt-transformer'];

/** Single tokens: each with the wrong words that belong to its sort, left out, doubled, and with a letter dropped. */
function* atTokens(record: ReadRecord): Iterable<Mutant> {
  const tokens = tokensOf(record.text);
  for (const [index, token] of tokens.entries()) {
    const { text, start, end } = token;
    const put = (by: string, kind: string) => replaced(record, start, end, by, kind);
    const before = tokens[index - 1]?.text;
    yield put('', 'token left out');
    if (index % 4 === 0) yield put(`${text} ${text}`, 'token doubled');
    if (/^[A-Za-z][\w-]{2,}/.test(text)) yield put(text.slice(0, 2) + text.slice(3), 'letter dropped');
    const [part = '', terminal] = text.split('.');
    const known = record.terminals.get(part);
    if (known !== undefined && terminal !== undefined) {
      for (const other of known) if (other !== terminal) yield put(`${part}.${other}`, 'wrong terminal');
      for (const [name, others] of record.terminals) {
        if (name !== part && others.includes(terminal)) yield put(`${name}.${terminal}`, "another part's terminal");
      }
      for (const splice of record.splices.slice(0, 2)) yield put(splice, 'splice in place of a terminal');
    }
    if (record.splices.includes(text) && before !== 'splice') {
      for (const other of record.splices) if (other !== text) yield put(other, 'wrong splice');
    }
    for (const unit of UNITS[text] ?? []) yield put(unit, 'wrong unit');
    const [, size, count] = /^(\d\d)\/(\d)$/.exec(text) ?? [];
    if (size !== undefined) {
      for (const other of GAUGES) if (other !== size) yield put(`${other}/${count}`, 'wrong gauge');
      yield put(`${size}/${Number(count) - 1}`, 'wrong number of conductors');
    }
    if (/^\d+(\.\d+)?$/.test(text) && !text.startsWith('0')) {
      yield put(String(Number(text) * 10), 'figure ten times');
      yield put(String(Number(text) / 10), 'a tenth of a figure');
    }
    if (COLOURS.includes(text)) for (const other of COLOURS) if (other !== text) yield put(other, 'wrong colour');
    if (SETTINGS.includes(text) && before === 'ring')
      for (const other of SETTINGS) if (other !== text) yield put(other, 'wrong ring setting');
    const types = DEVICE_TYPES.includes(text) ? DEVICE_TYPES : SUPPLY_TYPES.includes(text) ? SUPPLY_TYPES : [];
    if (before === ':') for (const other of types) if (other !== text) yield put(other, 'wrong type');
  }
}

function* ofLines(record: ReadRecord): Iterable<Mutant> {
  let start = 0;
  for (const line of record.text.split('\n')) {
    const end = start + line.length + 1;
    if (!/^\s*(\/\/.*|\})?$/.test(line) && !line.trimEnd().endsWith('{')) {
      yield replaced(record, start, end, '', /^(jumper|pigtail)/.test(line) ? 'jumper left out' : 'line left out');
      yield replaced(record, start, end, `${line}\n${line}\n`, 'line doubled');
    }
    start = end;
  }
}

function* ofStatements(record: ReadRecord): Iterable<Mutant> {
  const lines = record.text.split('\n');
  const starts = lines.flatMap((line, index) => (STATEMENT.test(line) ? [index] : []));
  const offset = (line: number) => lines.slice(0, line).join('\n').length + (line === 0 ? 0 : 1);
  for (const [index, line] of starts.entries()) {
    if (!lines[line]!.trimEnd().endsWith('{')) continue;
    const next = starts[index + 1] ?? lines.length;
    const [start, end] = [offset(line), Math.min(offset(next), record.text.length)];
    const written = record.text.slice(start, end);
    yield replaced(record, start, end, '', 'statement left out');
    yield replaced(record, start, end, `${written}\n${written}`, 'statement doubled');
  }
}

const CONDUCTOR = /^( {4}\S+ +)(\S+)( +to +)(\S+)(.*)$/;

/** Ends swapped: of one conductor, and of two at one end of their run. */
function* ofConductors(record: ReadRecord): Iterable<Mutant> {
  const lines = record.text.split('\n');
  const changed = (edits: ReadonlyMap<number, string>, kind: string): Mutant => {
    const [first] = edits.keys();
    return {
      kind,
      text: lines.map((line, index) => edits.get(index) ?? line).join('\n'),
      words: `${first! + 1}: ${lines[first!]!.trim()} -> ${edits.get(first!)!.trim()}`,
    };
  };
  for (const [index, line] of lines.entries()) {
    const one = CONDUCTOR.exec(line);
    if (one === null) continue;
    const [, colour, from, to, end, rest] = one;
    yield changed(new Map([[index, `${colour}${end}${to}${from}${rest}`]]), 'ends of a conductor swapped');
    for (let below = index + 1; below < lines.length; below++) {
      const other = CONDUCTOR.exec(lines[below]!);
      if (other === null) break;
      const [, colour2, from2, to2, end2, rest2] = other;
      const kind = 'two conductors swapped at one end';
      const far: [number, string][] = [
        [index, `${colour}${from}${to}${end2}${rest}`],
        [below, `${colour2}${from2}${to2}${end}${rest2}`],
      ];
      const near: [number, string][] = [
        [index, `${colour}${from2}${to}${end}${rest}`],
        [below, `${colour2}${from}${to2}${end2}${rest2}`],
      ];
      if (end !== end2) yield changed(new Map(far), kind);
      if (from !== from2) yield changed(new Map(near), kind);
    }
  }
}

const OUTPUTS = ['8 V AC, 5 VA', '24 V AC, 20 VA', '16 V AC, 5 VA', '16 V AC, 30 VA', '12 V DC, 1 A'];

function* ofSupplies(record: ReadRecord): Iterable<Mutant> {
  for (const found of record.text.matchAll(/(?<=^ {4}output )\S.*$/gm)) {
    for (const output of OUTPUTS) {
      if (output !== found[0])
        yield replaced(record, found.index, found.index + found[0].length, output, 'wrong supply');
    }
  }
}

/** A jumper between any two of a part's terminals, and from a supply's to a part's. */
function* extraJumpers(record: ReadRecord): Iterable<Mutant> {
  const end = record.text.length;
  const parts = [...record.terminals];
  for (const [part, all] of parts) {
    const terminals = wiredTerminals(record, part);
    for (const [index, from] of terminals.entries()) {
      for (const to of terminals.slice(index + 1)) {
        yield replaced(record, end, end, `\njumper ${part}.${from} to ${part}.${to}\n`, 'extra jumper on one part');
      }
    }
    for (const [other, others] of parts) {
      if (other <= part) continue;
      const [from, to] = [all.at(-1), others.at(-1)];
      if (from === undefined || to === undefined) continue;
      yield replaced(record, end, end, `\njumper ${part}.${from} to ${other}.${to}\n`, 'extra jumper between parts');
    }
  }
}
