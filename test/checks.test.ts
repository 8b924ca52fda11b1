// Every check against the records that raise it and those that don't: its page's two examples, and the fixtures in packages/record/fixtures,
// in which `//! error supply-shorted at "chime-bypass" says "2.8 A"` at a line's end marks each finding of that line.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  type CheckedRecord,
  checkRecord,
  type LocatedFinding,
  parseWiring,
  readRecord,
} from '../packages/language/src/index.js';
import { checkSummaries } from '../packages/record/src/index.js';

const root = new URL('..', import.meta.url).pathname;
const fixtures = join(root, 'packages/record/fixtures');
const pages = join(root, 'packages/record/src/checks');
const COLLECTIONS = ['sound', 'mistakes'];

interface Marker {
  readonly line: number;
  readonly severity: string;
  readonly code: string;
  readonly at?: string;
  readonly says: readonly string[];
}

const MARKER = /^(error|warning|info|hint) ([a-z0-9-]+)(?: at "([^"]*)")?((?: says "[^"]*")*)$/;

function markersOf(text: string): Marker[] {
  return text.split('\n').flatMap((content, line) => {
    const [, ...written] = content.split('//!');
    return written.map((words) => {
      const match = MARKER.exec(words.trim());
      if (match === null) throw new Error(`line ${line + 1}: a marker that can't be read: ${words}`);
      const [, severity, code, at, says] = match;
      const parts = [...(says ?? '').matchAll(/says "([^"]*)"/g)].map((found) => found[1]!);
      return { line, severity: severity!, code: code!, ...(at === undefined ? {} : { at }), says: parts };
    });
  });
}

function check(folder: string, name: string, text: string): CheckedRecord {
  const uriOf = (file: string) => `file:///records/${folder}/${file}`;
  const source = {
    document(uri: string) {
      const path = join(fixtures, folder, uri.slice(uri.lastIndexOf('/') + 1));
      if (uri === uriOf(name)) return parseWiring(uri, text);
      return uri.startsWith(uriOf('')) && existsSync(path) ? parseWiring(uri, readFileSync(path, 'utf8')) : undefined;
    },
  };
  return checkRecord(readRecord(parseWiring(uriOf(name), text), source));
}

function textAt(text: string, { range }: LocatedFinding): string {
  const lines = text.split('\n').slice(range.start.line, range.end.line + 1);
  const last = lines.length - 1;
  lines[last] = lines[last]!.slice(0, range.end.character);
  lines[0] = lines[0]!.slice(range.start.character);
  return lines.join('\n');
}

/** Each found thing as the marker that would stand for it. */
function asMarker(text: string, finding: LocatedFinding, marker: Marker | undefined): string {
  const at = marker?.at === undefined ? '' : ` at "${textAt(text, finding)}"`;
  const says = (marker?.says ?? []).filter((part) => finding.message.includes(part));
  const said = says.map((part) => ` says "${part}"`).join('');
  return `${finding.range.start.line + 1}: ${finding.severity} ${finding.code}${at}${said}`;
}

function written({ line, severity, code, at, says }: Marker): string {
  const where = at === undefined ? '' : ` at "${at}"`;
  return `${line + 1}: ${severity} ${code}${where}${says.map((part) => ` says "${part}"`).join('')}`;
}

/** Every message that the tests above the last one met. */
const said = new Set<string>();

/** Compares the whole set: a finding too many fails as one too few does. */
function expectExactly(folder: string, name: string): CheckedRecord {
  const text = readFileSync(join(fixtures, folder, name), 'utf8');
  const checked = check(folder, name, text);
  for (const { message } of checked.findings) said.add(message);
  const markers = markersOf(text);
  const left = [...markers];
  const found = checked.findings.map((finding) => {
    const index = left.findIndex(
      ({ line, code, severity, at }) =>
        line === finding.range.start.line &&
        code === finding.code &&
        severity === finding.severity &&
        (at === undefined || at === textAt(text, finding)),
    );
    return asMarker(text, finding, index < 0 ? undefined : left.splice(index, 1)[0]);
  });
  expect(found.sort()).toEqual(markers.map(written).sort());
  return checked;
}

function recordsIn(folder: string): string[] {
  return readdirSync(join(fixtures, folder))
    .filter((name) => name.endsWith('.wiring'))
    .sort();
}

const codes = [...checkSummaries.keys()];
const isGrave = ({ severity }: LocatedFinding) => severity === 'error' || severity === 'warning';

test('every check has its folder of fixtures, and nothing else has one', () => {
  const folders = readdirSync(fixtures).filter((name) => !COLLECTIONS.includes(name));
  expect(folders.sort()).toEqual([...codes].sort());
});

describe.each(codes)('%s', (code) => {
  test('has a record that raises it and one that does not', () => {
    expect(recordsIn(code)).toEqual(expect.arrayContaining(['bad.wiring', 'good.wiring']));
  });

  test.each(recordsIn(code))('%s', (name) => {
    const { findings } = expectExactly(code, name);
    const raised = findings.filter((finding) => finding.code === code);
    if (name.startsWith('bad')) expect(raised.length).toBeGreaterThan(0);
    else expect([...raised, ...findings.filter(isGrave)]).toEqual([]);
  });

  test('its page shows it raised and mended', () => {
    const page = readFileSync(join(pages, `${code}.md`), 'utf8');
    const example = (kind: string) => new RegExp(`\`\`\`wiring ${kind}\n([\\s\\S]*?)\n\`\`\``).exec(page)?.[1];
    const bad = check(code, 'bad.wiring', example('bad') ?? '').findings;
    expect(bad.map((finding) => finding.code)).toContain(code);
    expect(bad.filter((finding) => finding.severity === 'error').length).toBeLessThanOrEqual(2);
    const good = check(code, 'good.wiring', example('good') ?? '').findings;
    expect(example('good')).toBeDefined();
    expect(good.filter((finding) => finding.code === code || isGrave(finding))).toEqual([]);
  });
});

describe('sound jobs raise no error and no warning', () => {
  test.each(recordsIn('sound'))('%s', (name) => {
    const { findings } = expectExactly('sound', name);
    expect(findings.filter(isGrave)).toEqual([]);
  });
});

describe('a mistake made in a sound record is one error', () => {
  test.each(recordsIn('mistakes'))('%s', (name) => {
    const errors = expectExactly('mistakes', name).findings.filter(({ severity }) => severity === 'error');
    const text = readFileSync(join(fixtures, 'mistakes', name), 'utf8');
    const made = name.startsWith('two-') ? 2 : name.startsWith('three-') ? 3 : 1;
    expect(errors).toHaveLength(made);
    expect(markersOf(text).filter(({ severity, at }) => severity === 'error' && at !== undefined)).toHaveLength(made);
  });
});

describe('a fix mends what it is offered for, and raises nothing', () => {
  const records = [...codes, ...COLLECTIONS].flatMap((folder) =>
    recordsIn(folder).map((name) => [folder, name] as const),
  );
  const titles = new Set<string>();
  test.each(records)('%s/%s', (folder, name) => {
    const text = readFileSync(join(fixtures, folder, name), 'utf8');
    const before = check(folder, name, text);
    for (const finding of before.findings.filter(isGrave)) {
      for (const fix of before.fixesOf(finding)) {
        const after = check(folder, name, applied(text, before, fix.edits)).findings;
        const same = after.filter((one) => one.code === finding.code && one.parts[0] === finding.parts[0]);
        const places =
          finding.parts.length === 0 ? before.findings.filter(({ code }) => code === finding.code).length - 1 : 0;
        expect(same.length, fix.title).toBeLessThanOrEqual(places);
        if (finding.fixes.length === 0) {
          const identity = ({ code, severity, parts }: LocatedFinding) => `${severity} ${code} ${parts[0] ?? ''}`;
          const known = before.findings.map(identity);
          // An acceptance of what was mended is left over, and says so.
          const added = after.filter(
            (one) => isGrave(one) && one.code !== 'accept-unused' && !known.includes(identity(one)),
          );
          expect(
            added.map(({ code, message }) => `${code}: ${message}`),
            fix.title,
          ).toEqual([]);
        }
        titles.add(fix.title);
      }
    }
  });
  test.each([
    ['the nearest name', /^Write `bell-tx`/],
    ['the nearest terminal', /^Write `front`/],
    ['the nearest type', /^Write `push-button`/],
    ['a supply of the next size, or of other volts', /^Change `bell-tx` to 16 V \d+ VA$/],
    ['thicker wire', /^Put \d+ AWG in `[^`]+`$/],
    ['thicker wire and a bigger supply together', /^Put \d+ AWG in `.+` and change `.+` to 16 V \d+ VA$/],
    ['a conductor that was left out', /^Land white of `tx-to-porch` from `joint` to `porch-cam\.b`$/],
    ['a conductor that was put away', /^Land the capped end of red of `tx-to-porch` on `bell-tx\.b`$/],
    ['the other end of a conductor', /^Land white of `tx-to-porch` on `porch-button\.b`$/],
    ['the unit that fits', /^Write `(19\.8 V|350 mA)`$/],
    ['a bypass put in', /^Bypass the coil/],
    ['a bypass taken out', /^Take out `/],
    ['a conductor landed where it belongs', /^Land \w+ of `/],
  ])('%s was offered', (_, title) => {
    expect([...titles]).toContainEqual(expect.stringMatching(title));
  });
});

test('of a bell with two doors each conductor left out is offered as it stood', () => {
  const text = readFileSync(join(fixtures, 'sound', 'plain-bell-both-doors.wiring'), 'utf8');
  const lines = text.split('\n');
  const conductors = lines.flatMap((line, index) => (/^ {4}\S+ +\S+ +to /.test(line) ? [index] : []));
  expect(conductors).toHaveLength(7);
  for (const index of conductors) {
    const without = lines.toSpliced(index, 1).join('\n');
    const checked = check('sound', 'without.wiring', without);
    const offered = checked.findings.filter(isGrave).flatMap((finding) => checked.fixesOf(finding));
    const mended = offered.map(({ edits }) => applied(without, checked, edits));
    const words = (content: string) => content.trim().split(/\s+/).join(' ');
    const isBack = (record: string) => record.split('\n').map(words).includes(words(lines[index]!));
    expect(mended.some(isBack), lines[index]).toBe(true);
  }
});

/** Said where mains or a danger is near, beside what is found. */
const CAUTIONS = [
  /;? its mains side is for a licensed electrician/,
  / Isolate the circuit and prove it dead before opening anything; local code and a licensed electrician decide\./,
];
const MOST_WORDS = 45;

/** A figure and its unit are one word. */
function wordsIn(message: string): number {
  const told = CAUTIONS.reduce((so, caution) => so.replace(caution, ''), message);
  return told.replace(/(\d) (?=(m?[VA]|VA|W|ohm|AWG|mm2?|m|ft|in|%)(?![A-Za-z]))/g, '$1').split(/\s+/).length;
}

test(`no sentence is longer than ${MOST_WORDS} words`, () => {
  expect([...said].filter((message) => wordsIn(message) > MOST_WORDS)).toEqual([]);
});

function applied(
  text: string,
  { reading }: CheckedRecord,
  edits: readonly { readonly range: LocatedFinding['range']; readonly newText: string }[],
): string {
  const offsets = edits.map(({ range, newText }) => ({
    start: reading.document.offsetAt(range.start),
    end: reading.document.offsetAt(range.end),
    newText,
  }));
  offsets.sort((one, other) => other.start - one.start);
  return offsets.reduce((so, { start, end, newText }) => so.slice(0, start) + newText + so.slice(end), text);
}
