import { readFileSync } from 'node:fs';
import type { RecordChange } from '@ohmstead/record';
import { describe, expect, it } from 'vitest';
import { checkRecord } from '../../src/pipeline.js';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';
import { editsOf } from '../../src/services/fix-edits.js';

const example = (name: string): string =>
  readFileSync(new URL(`../../../../examples/${name}.wiring`, import.meta.url), 'utf8');
const bell = example('as-found-bell');
const firstTry = example('doorbell-first-try');

const read = (text: string) => readRecord(parseWiring('file:///a.wiring', text));

type Edits = NonNullable<ReturnType<typeof editsOf>>;

function applied(text: string, edits: Edits): string {
  const document = parseWiring('file:///a.wiring', text);
  return [...edits]
    .map(({ range, newText }) => ({
      start: document.offsetAt(range.start),
      end: document.offsetAt(range.end),
      newText,
    }))
    .sort((one, other) => other.start - one.start)
    .reduce((now, { start, end, newText }) => now.slice(0, start) + newText + now.slice(end), text);
}

function changed(text: string, ...changes: RecordChange[]): string {
  const edits = editsOf(read(text), changes);
  if (!edits) throw new Error('no place for the change');
  return applied(text, edits);
}

describe('changes of a record as edits of its text', () => {
  it('put a supply up to another output, and what was read off the old one goes', () => {
    const text = changed(bell, { kind: 'set-output', part: 'bell-tx', volts: 16, voltAmperes: 30 });
    expect(text).toContain('    output 16 V AC, 30 VA\n    accepts');
    expect(text).not.toContain('no-load');
    const [supply] = read(text).installation.supplies;
    expect(supply?.facts.outputs[0]).toMatchObject({ volts: 16, voltAmperes: 30, system: 'AC' });
  });

  it.each([
    ['supply x : bell-transformer in hall\n', 'supply x : bell-transformer in hall {\n    output 16 V AC, 30 VA\n}\n'],
    ['supply x : bell-transformer { outdoor }\n', 'supply x : bell-transformer { outdoor, output 16 V AC, 30 VA }\n'],
    [
      'supply x : bell-transformer {\n    outdoor\n}\n',
      'supply x : bell-transformer {\n    outdoor\n    output 16 V AC, 30 VA\n}\n',
    ],
    [
      'supply x : bell-transformer { output 16 V AC, 10 VA, no-load 19 V }\r\n',
      'supply x : bell-transformer { output 16 V AC, 30 VA }\r\n',
    ],
  ])('write an output that was not stated: %j', (before, after) => {
    expect(changed(before, { kind: 'set-output', part: 'x', volts: 16, voltAmperes: 30 })).toBe(after);
  });

  it('write figures as a label has them', () => {
    const change = { kind: 'set-output', part: 'x', volts: 24.1 - 8, voltAmperes: 1.15 * 12 } as const;
    expect(changed('supply x : bell-transformer { output 12 V AC, 1.15 A }\n', change)).toBe(
      'supply x : bell-transformer { output 16.1 V AC, 13.8 VA }\n',
    );
  });

  it('write the amps that the sentence names where a supply is sold by them', () => {
    const text = `supply psu : dc-adaptor { output 12 V DC, 6 VA }
device lock : door-strike { rating 12 V DC, 1.2 A }
device push : push-button
run to-lock : 18/2, 3 m {
    red    psu.plus   to  push.a
    white  psu.minus  to  lock.b
}
run to-push : 18/2, 3 m { red push.b to lock.a }
`;
    const record = checkRecord(read(text));
    const finding = record.findings.find(({ code }) => code === 'supply-overloaded')!;
    const [fix] = record.fixesOf(finding);
    expect(fix?.title).toBe('Change `psu` to 12 V 1.5 A');
    expect(applied(text, fix!.edits)).toContain('{ output 12 V DC, 1.5 A }');
  });

  it.each([
    ['18/2', { kind: 'awg', awg: 16 }, '16/2'],
    ['18-2 outdoor', { kind: 'awg', awg: 16 }, '16-2 outdoor'],
    ['2 x 0.5 mm2', { kind: 'area', mm2: 1.5 }, '2 x 1.5 mm2'],
    ['3G1.5', { kind: 'area', mm2: 2.5 }, '3G2.5'],
  ] as const)('write the size of %s anew', (written, size, anew) => {
    expect(changed(`run x : ${written}, 9 m\n`, { kind: 'set-cable', run: 'x', size })).toBe(`run x : ${anew}, 9 m\n`);
  });

  it('put another battery in', () => {
    const text = 'supply x : door-supply {\n    battery 4 Ah\n    standby 8 h\n}\n';
    const after = changed(text, { kind: 'set-battery', part: 'x', ampereHours: 7 });
    expect(after).toBe(text.replace('4 Ah', '7 Ah'));
    expect(read(after).installation.supplies[0]?.facts.batteryAmpereHours).toBe(7);
  });

  it('leave a cable that is named by its type alone', () => {
    const text = 'cable type thin {\n    conductors 24 AWG red, white\n}\nrun x : thin, 9 m\n';
    expect(editsOf(read(text), [{ kind: 'set-cable', run: 'x', size: { kind: 'awg', awg: 18 } }])).toBeUndefined();
  });

  it('add and remove a jumper without leaving a trace', () => {
    const ends = { from: { part: 'hall-chime', terminal: 'trans' }, to: { part: 'hall-chime', terminal: 'front' } };
    const added = changed(bell, { kind: 'add-jumper', name: 'chime-bypass', ...ends });
    expect(added).toBe(`${bell}jumper chime-bypass : hall-chime.trans to hall-chime.front\n`);
    expect(changed(added, { kind: 'remove-jumper', jumper: 'chime-bypass' })).toBe(bell);
  });

  it('land, cap, recolour and take out a conductor', () => {
    const run = 'run x : 18/2, 9 m {\n    red  a.b\n    white  c.d  to  e.f  // kept\n}\n';
    const on = { part: 'g', terminal: 'h' };
    const where = { run: 'x', conductor: 0, end: 'to' } as const;
    expect(changed(run, { kind: 'land', ...where, on })).toContain('    red  a.b  to  g.h\n');
    expect(changed(run, { kind: 'cap', ...where })).toContain('    red  a.b  to  capped\n');
    expect(changed(run, { kind: 'cap', ...where, conductor: 1 })).toContain('    white  c.d  to  capped  // kept\n');
    expect(changed(run, { kind: 'set-colour', run: 'x', conductor: 1, colour: 'blue' })).toContain('    blue  c.d');
    expect(changed(run, { kind: 'remove-conductor', run: 'x', conductor: 0 })).not.toContain('red');
  });
});

describe('computed fixes', () => {
  const bypassLeftIn = `${bell}jumper left-in : hall-chime.trans to hall-chime.front\n`;
  const swapped = bell.replace('output 16 V AC, 10 VA\n    no-load 19.8 V', 'output 24 V AC, 20 VA');

  it.each([
    ['a doorbell on a supply too small', firstTry],
    ['a bypass left in', bypassLeftIn],
    ['a supply of too many volts', swapped],
  ])('mend their finding in the text: %s', (_, text) => {
    const checked = checkRecord(read(text));
    let offered = 0;
    for (const finding of checked.findings) {
      for (const fix of checked.fixesOf(finding)) {
        offered++;
        const mended = checkRecord(read(applied(text, [...fix.edits])));
        const left = mended.findings.map((one) => `${one.code} ${one.parts[0]}`);
        expect(left, fix.title).not.toContain(`${finding.code} ${finding.parts[0]}`);
      }
    }
    expect(offered).toBeGreaterThan(0);
  });
});

describe('a place that no statement names', () => {
  const nameIt = (text: string) => {
    const checked = checkRecord(read(text));
    const finding = checked.findings.find((one) => one.code === 'unknown-name')!;
    const fix = checked.fixesOf(finding).find((one) => one.title.startsWith('Add'))!;
    return { finding, after: applied(text, fix.edits as Edits) };
  };

  it.each([
    [
      'wiring "A"\nplace hall\n\ndevice b : buzzer in porch\n',
      'wiring "A"\nplace hall\nplace porch\n\ndevice b : buzzer in porch\n',
    ],
    [
      'wiring "A"\r\n\r\ndevice b : buzzer in porch\r\n',
      'wiring "A"\r\n\r\nplace porch\r\n\r\ndevice b : buzzer in porch\r\n',
    ],
  ])('is added where places stand: %j', (before, wanted) => {
    const { finding, after } = nameIt(before);
    expect(finding.message).toBe(
      '`porch` is not the name of a place in this record. Name it on a line of its own: `place porch`.',
    );
    expect(after).toBe(wanted);
    expect(checkRecord(read(after)).findings.map((one) => one.code)).not.toContain('unknown-name');
  });
});

describe('a type that is not known', () => {
  it.each([
    [
      'device s : electric-strike',
      '`electric-strike` is not a device type of the library or of this record. Did you mean `door-strike` or `ac-door-strike`?',
    ],
    [
      'device s : fence',
      '`fence` is not a device type of the library or of this record. Name one that is, or write `device type fence` with what its label says.',
    ],
  ])('leads to one that is: %s', (line, wanted) => {
    const [finding] = checkRecord(read(`wiring "A"\n${line}\n`)).findings.filter((one) => one.code === 'unknown-type');
    expect(finding?.message).toBe(wanted);
  });
});
