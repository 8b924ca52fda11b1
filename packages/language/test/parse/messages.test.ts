import { describe, expect, it } from 'vitest';
import { checkRecord } from '../../src/pipeline.js';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';

const record = `wiring "Alder Lane 12"
profile north-america
place basement
place hall
place porch { outdoor }
supply bell-tx : bell-transformer in basement {
    output 16 V AC, 10 VA
    no-load 19.8 V
}
device hall-chime : two-note-chime in hall {
    rating 16 V AC, 10 VA
}
device porch-button : push-button in porch
splice joist-joint in basement
run tx-to-hall : 18/2 from basement to hall, 9 m {
    red    bell-tx.a    to  hall-chime.trans
    white  joist-joint  to  hall-chime.front
}
run tx-to-porch : 18/2 from basement to porch, 21 ft 6 in {
    red    bell-tx.b    to  porch-button.a
    white  joist-joint  to  porch-button.b
}
`;

interface Said {
  readonly on: string;
  readonly code: string;
  readonly message: string;
  readonly write: readonly string[];
}

function said(text: string): Said[] {
  const { document, findings } = readRecord(parseWiring('file:///w/a.wiring', text));
  return findings.map(({ range, code, message, fixes }) => ({
    on: text.slice(document.offsetAt(range.start), document.offsetAt(range.end)),
    code,
    message,
    write: fixes.map((fix) => fix.edits[0]!.newText),
  }));
}

function edited(from: string, to: string): string {
  expect(record).toContain(from);
  return record.replace(from, to);
}

describe('one mistake in a clean record', () => {
  it('is clean to begin with', () => {
    expect(said(record)).toEqual([]);
  });

  it.each<[what: string, from: string, to: string, on: string, code: string, message: RegExp, write?: string[]]>([
    ['a decimal comma', '19.8', '19,8', '19,8', 'syntax', /write 19\.8, or a space after the comma/, ['19.8']],
    ['a comma in thousands', '9 m', '1,000 m', '1,000', 'syntax', /write 1000 or 1\.000, or a space/],
    ['glued feet and inches', '21 ft 6 in', '21ft6in', '21ft6in', 'syntax', /`21 ft 6 in`/, ['21 ft 6 in']],
    [
      'curly quotes',
      '"Alder Lane 12"',
      '“Alder Lane 12”',
      '“Alder Lane 12”',
      'syntax',
      /straight quotes/,
      ['"Alder Lane 12"'],
    ],
    [
      'a merge that was not finished',
      'place hall\n',
      '<<<<<<< HEAD\nplace hall\n',
      '<<<<<<< HEAD',
      'syntax',
      /^`<<<<<<<` marks two versions that could not be merged/,
    ],
    ['an unclosed string', 'Lane 12"', 'Lane 12', '"Alder Lane 12', 'syntax', /no closing quote/],
    ['an unclosed comment', 'place hall', '/* place hall', '/* place hall', 'syntax', /comment is never closed/],
    ['a missing unit', '19.8 V', '19.8', '19.8', 'unit-mismatch', /has no unit: .* takes `V`/, ['19.8 V']],
    ['a unit in words', '19.8 V', '19.8 volts', '19.8 volts', 'unit-mismatch', /does not fit/, ['19.8 V']],
    [
      'a unit in millions',
      '19.8 V',
      '19.8 MV',
      '19.8 MV',
      'unit-mismatch',
      /Write `19\.8 mV` or `19\.8 V`/,
      ['19.8 mV', '19.8 V'],
    ],
    ['an unfit unit', '19.8 V', '19.8 ohm', '19.8 ohm', 'unit-mismatch', /takes `V`/, ['19.8 V']],
    ['a misspelt statement', 'device hall', 'devcie hall', 'devcie', 'syntax', /Did you mean `device`/, ['device']],
    ['a misspelt fact', 'no-load', 'noload', 'noload', 'syntax', /not a fact of `bell-tx`.*`no-load`/, ['no-load']],
    [
      'a misspelt first fact',
      'rating',
      'ratign',
      'ratign',
      'syntax',
      /not a fact of `hall-chime`.*`rating`/,
      ['rating'],
    ],
    [
      'a fact of something else',
      'no-load 19.8 V',
      'rating 16 V',
      'rating 16 V',
      'syntax',
      /not a fact of `bell-tx`: a supply's label is its `output`/,
      ['output 16 V'],
    ],
    ['a fact stated twice', 'no-load 19.8 V', 'output 9 V', 'output 9 V', 'syntax', /already stated/],
    ['a place left out', 'in hall {', 'in {', '{', 'syntax', /The name of a place belongs here after `in`/],
    ['a colon left out', 'hall-chime :', 'hall-chime', 'two-note-chime', 'syntax', /`:` belongs here/],
    ['a type left out', ': two-note-chime', ':', 'in', 'syntax', /A device type belongs here/],
    [
      'a cable left out',
      ': 18/2 from basement to hall',
      ': from basement to hall',
      'from',
      'syntax',
      /A cable such as `18\/2`/,
    ],
    ['a closing brace left out', 'V\n}\ndevice', 'V\ndevice', 'V', 'syntax', /`bell-tx` are not closed/],
    ['an opening brace left out', 'in basement {', 'in basement', 'output', 'syntax', /`\{` belongs here/],
    ['a brace too many', 'place hall', 'place hall }', '}', 'syntax', /one too many/],
    ['a word too many', 'place hall', 'place hall porch', 'porch', 'syntax', /one too many/],
    ['a stray mark', 'place hall', 'place hall ;', ';', 'syntax', /a line ends by itself/],
    [
      'a name with an underscore',
      'run tx-to-hall',
      'run tx_to_hall',
      'tx_to_hall',
      'syntax',
      /letters, digits and hyphens/,
      ['tx-to-hall'],
    ],
    [
      'a comma left out',
      '16 V AC, 10 VA\n    no',
      '16 V AC 10 VA\n    no',
      '10',
      'syntax',
      /^Put a comma between `16 V AC` and `10 VA`\.$/,
    ],
    ['"to" left out', 'joist-joint  to  hall', 'joist-joint  hall', 'hall-chime', 'syntax', /`to` belongs here/],
    [
      'an end left out',
      'bell-tx.a    to  hall-chime.trans',
      'bell-tx.a to',
      'to',
      'syntax',
      /place to land.*the line ends/,
    ],
    ['a terminal left out after its dot', 'bell-tx.a ', 'bell-tx. ', 'to', 'syntax', /name of a terminal belongs here/],
    [
      'a misspelt part',
      'hall-chime.trans',
      'hall-chme.trans',
      'hall-chme',
      'unknown-name',
      /part or splice.*`hall-chime`/,
      ['hall-chime'],
    ],
    [
      'a misspelt terminal',
      '.trans',
      '.tarns',
      'tarns',
      'unknown-terminal',
      /has no terminal.*Did you mean `trans`/,
      ['trans'],
    ],
    [
      'no terminal',
      'porch-button.a',
      'porch-button',
      'porch-button',
      'unknown-terminal',
      /Say which terminal/,
      ['porch-button.a', 'porch-button.b'],
    ],
    [
      'a terminal of a splice',
      'joist-joint  to  hall',
      'joist-joint.a to hall',
      'joist-joint.a',
      'unknown-terminal',
      /a splice/,
      ['joist-joint'],
    ],
    [
      'a misspelt type',
      'two-note-chime',
      'two-not-chime',
      'two-not-chime',
      'unknown-type',
      /Did you mean `two-note-chime`/,
      ['two-note-chime'],
    ],
    [
      'a type of the wrong kind',
      'two-note-chime',
      'bell-transformer',
      'bell-transformer',
      'unknown-type',
      /is a supply type/,
    ],
    [
      'an unknown cable',
      ': 18/2 from basement to hall',
      ': cat5 from basement to hall',
      'cat5',
      'unknown-type',
      /not a cable/,
    ],
    ['a misspelt place', 'in hall', 'in hal', 'hal', 'unknown-name', /not the name of a place/, ['hall']],
    ['an impossible length', '9 m', '0 m', '0 m', 'value-out-of-range', /above 0/],
    [
      'an impossible gauge',
      ': 18/2 from basement to hall',
      ': 99/2 from basement to hall',
      '99/2',
      'value-out-of-range',
      /from 0 to 40 AWG/,
    ],
    ['an impossible date', 'no-load 19.8 V', 'installed 2026-02-30', '2026-02-30', 'value-out-of-range', /calendar/],
    [
      'a misspelt profile',
      'north-america',
      'north-amerca',
      'north-amerca',
      'unknown-name',
      /profile.*`north-america`/,
      ['north-america'],
    ],
  ])('%s', (_what, from, to, on, code, message, write = []) => {
    const text = edited(from, to);
    expect(said(text)).toEqual([{ on, code, message: expect.stringMatching(message), write }]);
    const { findings } = checkRecord(readRecord(parseWiring('file:///w/a.wiring', text)));
    expect(findings.filter(({ severity }) => severity === 'error' || severity === 'warning')).toMatchObject([{ code }]);
  });

  it('is told apart from a conductor landed at one end, which the checks report', () => {
    const text = edited('bell-tx.a    to  hall-chime.trans', 'bell-tx.a');
    const { findings, installation } = readRecord(parseWiring('file:///w/a.wiring', text));
    expect(findings).toEqual([]);
    expect(installation.runs[0]?.conductors[0]).toEqual({
      colour: 'red',
      from: { kind: 'on', end: { part: 'bell-tx', terminal: 'a' } },
      spare: false,
    });
  });

  it('holds back the names of its statement and no others', () => {
    const broken = (text: string) => readRecord(parseWiring('file:///w/a.wiring', text)).installation.broken;
    expect([...broken(record)]).toEqual([]);
    const names = broken(`${record}device attic-bell : two-note-chime in attic {\n    ratign 3 V\n}\n`);
    expect(names.has('attic-bell')).toBe(true);
    expect(names.has('hall-chime')).toBe(false);
    expect(broken(edited('.trans', '.tarns'))).toContain('hall-chime');
  });

  it('does not make names unknown that the broken statement would have declared', () => {
    expect(said(edited('device porch-button', 'devcie porch-button')).map(({ code }) => code)).toEqual(['syntax']);
    expect(said(edited('splice joist-joint', 'splcie joist-joint')).map(({ code }) => code)).toEqual(['syntax']);
    expect(said(edited('place hall', 'place hall "')).map(({ code }) => code)).toEqual(['syntax']);
  });

  it('is a picture in a name, and none is a rare letter', () => {
    const odd = said(`${record}splice bell-🔔-1\nsplice 🔔\nsplice 𐐷-1\n`);
    expect(odd.map(({ on, code, write }) => ({ on, code, write }))).toEqual([
      { on: 'bell-🔔-1', code: 'syntax', write: ['bell-1'] },
      { on: '🔔', code: 'syntax', write: [] },
    ]);
  });

  it('names both places of a name given twice', () => {
    const text = `${record}place attic\ndevice bell-tx : push-button in attic\n`;
    const [finding, ...others] = readRecord(parseWiring('file:///w/a.wiring', text)).findings;
    expect(others).toEqual([]);
    expect(finding).toMatchObject({
      code: 'duplicate-name',
      related: [{ range: { start: { line: 5, character: 7 } } }],
    });
  });
});

describe('the line side', () => {
  const lineSide = `${record}box jb in basement { volume 18 in3, metal, clamps, note "Behind the furnace." }
supply kitchen : branch-circuit in basement { breaker 15 A, existing load 4 A, existing load 2 A continuous, circuit "7" }
earth bell-tx.ground to jb
`;

  it('is read: boxes, grounds, and what a branch circuit states', () => {
    const { findings, installation } = readRecord(parseWiring('file:///w/a.wiring', lineSide));
    expect(findings).toEqual([]);
    const [box] = installation.boxes ?? [];
    expect(box).toMatchObject({ name: 'jb', place: 'basement', metal: true, clamps: true, barrier: false });
    // 1 in = 2.54 cm.
    expect(box?.volume).toBeCloseTo(18 * 2.54 ** 3, 9);
    expect(installation.places.map(({ name }) => name)).toContain('jb');
    expect(installation.grounds).toEqual([{ end: { part: 'bell-tx', terminal: 'ground' }, box: 'jb' }]);
    expect(installation.supplies.find(({ name }) => name === 'kitchen')?.facts).toMatchObject({
      breakerAmps: 15,
      circuit: '7',
      existingLoads: [
        { amps: 4, continuous: false },
        { amps: 2, continuous: true },
      ],
    });
  });

  it('is read: how far a run lies from another, and a raceway', () => {
    const text = edited('hall, 9 m {', 'hall, 9 m {\n    beside tx-to-porch, 2 in\n    raceway');
    const { findings, installation } = readRecord(parseWiring('file:///w/a.wiring', text));
    expect(findings).toEqual([]);
    expect(installation.runs[0]).toMatchObject({ beside: [{ run: 'tx-to-porch', metres: 0.0508 }], raceway: true });
    expect(installation.runs[0]?.conductors).toHaveLength(2);
  });

  it.each<[what: string, from: string, to: string, on: string, code: string]>([
    ['a box that is none', 'to jb', 'to hall', 'hall', 'unknown-name'],
    ['a breaker twice', 'breaker 15 A', 'breaker 15 A, breaker 20 A', 'breaker 20 A', 'syntax'],
    ['a breaker in volts', 'breaker 15 A', 'breaker 15 V', '15 V', 'unit-mismatch'],
    ['a volume in metres', '18 in3', '18 m', '18 m', 'unit-mismatch'],
  ])('says what is wrong: %s', (_what, from, to, on, code) => {
    const text = lineSide.replace(from, to);
    const { findings, document } = readRecord(parseWiring('file:///w/a.wiring', text));
    const said = findings.map((finding) => ({
      code: finding.code,
      on: text.slice(document.offsetAt(finding.range.start), document.offsetAt(finding.range.end)),
    }));
    expect(said).toEqual([{ code, on }]);
  });

  it('takes a profile with its colours', () => {
    const text = edited('north-america', 'europe').replace(
      ': 18/2 from basement to hall',
      ': 2 x 0.5 mm2 from basement to hall',
    );
    const { installation } = readRecord(parseWiring('file:///w/a.wiring', text));
    expect(installation.profile).toBe('europe');
    expect(installation.runs[0]?.cable?.colours).toEqual(['white', 'brown']);
    expect(installation.runs[1]?.cable?.colours).toEqual(['red', 'white']);
  });
});
