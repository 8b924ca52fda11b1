// What a meter showed, as the record has it, and what is said of lines that can't be meant.
import { readFileSync } from 'node:fs';
import { at } from '@ohmstead/record';
import { describe, expect, it } from 'vitest';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';

const bell = readFileSync(new URL('../../../../examples/as-found-bell.wiring', import.meta.url), 'utf8');

function read(...lines: readonly string[]) {
  const text = `${bell}\nreadings "as found" on 2026-11-20 {\n    ${lines.join('\n    ')}\n}\n`;
  const record = readRecord(parseWiring('file:///house/bell.wiring', text));
  const [block] = record.installation.readings ?? [];
  return { text, record, block, readings: block?.readings ?? [] };
}

const end = (part: string, terminal?: string) => ({
  kind: 'end',
  end: terminal === undefined ? { part } : { part, terminal },
});

describe('a line of readings', () => {
  it.each([
    ['idle bell-tx.a, bell-tx.b 18.7 V', { kind: 'live', pressed: [] }, { kind: 'volts', volts: 18.7 }],
    [
      'idle across bell-tx.a, joist-joint 0 V AC',
      { kind: 'live', pressed: [] },
      { kind: 'volts', volts: 0, system: 'AC' },
    ],
    ['PRESSED porch-button across bell-tx.a, bell-tx.b 240 mV', { pressed: ['porch-button'] }, { volts: 0.24 }],
    ['pressed yard-button, porch-button bell-tx.a, bell-tx.b 15 V', { pressed: ['porch-button', 'yard-button'] }, {}],
    [
      'bridged porch-button hall-chime rings',
      { pressed: [], bridged: ['porch-button'] },
      { kind: 'sign', shows: 'rings' },
    ],
    ['off hall-chime.trans, hall-chime.front 6.2 ohm', { kind: 'off' }, { kind: 'ohms', ohms: 6.2 }],
    ['off hall-chime.trans, hall-chime.front 1.2 Mohm', { kind: 'off' }, { kind: 'ohms', ohms: 1.2e6 }],
    ['off hall-chime.trans, hall-chime.front ol', { kind: 'off' }, { kind: 'ohms', ohms: null }],
    [
      'idle through tx-to-porch.RED 61 mA',
      { kind: 'live' },
      { kind: 'amps', amps: 0.061, through: { run: 'tx-to-porch', colour: 'red' } },
    ],
    [
      'off tx-to-porch.red at porch, tx-to-porch.white at porch 0.3 ohm',
      { kind: 'off' },
      { between: [{ at: 'porch' }, { at: 'porch' }] },
    ],
    [
      'pressed porch-button hall-chime rings "front"',
      {},
      { kind: 'sign', part: 'hall-chime', shows: 'rings', note: 'front' },
    ],
    ['pressed yard-button hall-chime rings rear', {}, { kind: 'sign', note: 'rear' }],
    ['idle bell-tx.a, bell-tx.b -12.1 V', { kind: 'live', pressed: [] }, { kind: 'volts', volts: -12.1 }],
    ['idle bell-tx.a, bell-tx.b -12.1 V DC', {}, { kind: 'volts', volts: -12.1, system: 'DC' }],
    [
      'off, pressed porch-button porch-button.a, porch-button.b 0.4 ohm',
      { kind: 'off', pressed: ['porch-button'] },
      { kind: 'ohms', ohms: 0.4 },
    ],
    ['off pressed porch-button porch-button.a, porch-button.b OL', { kind: 'off', pressed: ['porch-button'] }, {}],
    [
      'pressed yard-button, bridged porch-button hall-chime rings front',
      { kind: 'live', pressed: ['yard-button'], bridged: ['porch-button'] },
      { kind: 'sign', shows: 'rings' },
    ],
    [
      'pressed yard-button bridged porch-button bell-tx.a, bell-tx.b 13 V',
      { kind: 'live', pressed: ['yard-button'], bridged: ['porch-button'] },
      { kind: 'volts', volts: 13 },
    ],
    ['idle mains 118 V', { kind: 'live', pressed: [] }, { kind: 'mains', volts: 118 }],
    ['mains 118 V', { kind: 'live', pressed: [] }, { kind: 'mains', volts: 118 }],
  ])('is read: %s', (line, state, of) => {
    const { record, readings } = read(line);
    expect(record.findings).toEqual([]);
    expect(readings).toHaveLength(1);
    expect(readings[0]).toMatchObject({ state, of });
  });

  it('names terminals, splices and tolerances', () => {
    const { readings, block } = read(
      'meter 1 Mohm',
      'idle bell-tx.a, joist-joint 18.7 V within 3 %',
      'off bell-tx.a, bell-tx.b 1.1 ohm within 0.2 ohm',
      'note "Frost."',
    );
    expect(readings[0]?.of).toMatchObject({ between: [end('bell-tx', 'a'), end('joist-joint')] });
    expect(readings.map(({ within }) => within)).toEqual([{ share: 0.03 }, { figure: 0.2 }]);
    expect(block).toMatchObject({ words: 'as found', on: '2026-11-20', meterOhms: 1e6, notes: ['Frost.'] });
  });

  it('stands where it is written', () => {
    const { text, record } = read('note "x"', 'idle bell-tx.a, bell-tx.b 18.7 V', 'mains 118 V');
    const place = record.sourceMap.locate(at.reading(0, 1));
    expect(text.split('\n')[place!.range.start.line]?.trim()).toBe('mains 118 V');
  });
});

describe('a line that cannot be meant', () => {
  it.each([
    ['idle bell-tx.q, bell-tx.b 18 V', 'unknown-terminal', 'bell-tx` has no terminal `q'],
    ['idle bel-tx.a, bell-tx.b 18 V', 'unknown-name', 'Did you mean `bell-tx`?'],
    ['pressed porch-buton bell-tx.a, bell-tx.b 18 V', 'unknown-name', 'Did you mean `porch-button`?'],
    ['pressed hall-chime bell-tx.a, bell-tx.b 18 V', 'unknown-name', '`hall-chime` is a device'],
    ['idle through tx-to-porch.green 0.1 A', 'unknown-name', 'there are `red` and `white`'],
    ['idle tx-to-porch.red at poch, bell-tx.a 1 V', 'unknown-name', 'Did you mean `porch`?'],
    ['idle hall-chime rings frnt', 'unknown-terminal', 'Did you mean `front`?'],
    ['idle joist-joint silent', 'unknown-name', '`joist-joint` is a splice'],
    ['idle bell-tx.a, bell-tx.b 18 ohm', 'unit-mismatch', 'a reading with the circuit fed takes `V`'],
    ['idle bell-tx.a, bell-tx.b OL', 'unit-mismatch', 'a reading with the circuit fed takes `V`'],
    ['off bell-tx.a, bell-tx.b 2 A', 'unit-mismatch', 'with the supplies isolated takes `ohm`'],
    ['idle through tx-to-porch.red 3 V', 'unit-mismatch', 'a current takes `A` or `mA`'],
    ['off bell-tx.a, bell-tx.b 20 mohm', 'unit-mismatch', '`20 mohm`'],
    ['idle bell-tx.a, bell-tx.b 18', 'unit-mismatch', 'has no unit'],
    ['idle bell-tx.a, bell-tx.b 18 V within 2 ohm', 'unit-mismatch', 'a tolerance takes'],
    ['idle bell-tx.a, bell-tx.b -18 V AC', 'value-out-of-range', 'from 0 to 1000 V'],
    ['idle bell-tx.a, bell-tx.b -1800 V', 'value-out-of-range', 'from -1000 to 1000 V'],
    ['off, pressed porch-buton bell-tx.a, bell-tx.b 2 ohm', 'unknown-name', 'Did you mean `porch-button`?'],
    ['off, pressed porch-button bell-tx.a, bell-tx.b 2 A', 'unit-mismatch', 'with the supplies isolated takes `ohm`'],
    ['meter 0 ohm', 'value-out-of-range', 'above 0'],
    ['idle bell-tx.a bell-tx.b 18 V', 'syntax', '`,` belongs here'],
    ['idle across bell-tx 18 V', 'syntax', 'A comma with a second point belongs here after `bell-tx`'],
    ['idle bell-tx 18 V', 'syntax', 'A pair of points, or a part with what was seen of it, belongs here'],
    ['presed porch-button hall-chime silent', 'syntax', 'Did you mean `pressed`?'],
    ['bell-tx.a, bell-tx.b 18 V', 'syntax', '`bell-tx` is not a fact of these readings: a line starts with `idle`'],
    [
      'pressed porch-button through tx-to-hall 0.6 A',
      'unknown-name',
      'Say which conductor of `tx-to-hall`: there are `',
    ],
  ])('is said to be wrong on its own line, once: %s', (line, code, says) => {
    const { text, record, readings } = read(line, 'mains 118 V');
    expect(record.findings.map((finding) => finding.code)).toEqual([code]);
    expect(record.findings[0]!.message).toContain(says);
    expect(text.split('\n')[record.findings[0]!.range.start.line]?.trim()).toBe(line);
    expect(readings).toHaveLength(1);
  });

  it('leaves the wiring in no doubt', () => {
    const { record } = read('idle bell-tx.q, bell-tx.b 18 V', 'idle bell-tx.a bell-tx.b 18 V');
    expect([...record.installation.broken]).toEqual([]);
  });

  it('with a date that there is not takes its block along', () => {
    const record = readRecord(
      parseWiring('file:///a.wiring', `${bell}\nreadings on 2026-02-31 {\n    mains 118 V\n}\n`),
    );
    expect(record.findings.map(({ code }) => code)).toEqual(['value-out-of-range']);
    expect(record.installation.readings).toBeUndefined();
  });
});

describe('readings and other files', () => {
  const files = (uri: string) =>
    uri.endsWith('base.wiring')
      ? parseWiring(uri, `${bell}\nreadings on 2026-11-20 {\n    mains 118 V\n}\n`)
      : undefined;

  it('come along with what is imported', () => {
    const record = readRecord(parseWiring('file:///house/all.wiring', 'import "base.wiring"\n'), { document: files });
    expect(record.installation.readings).toHaveLength(1);
  });

  it('of before the work say nothing of a plan, whose own do', () => {
    const text = 'changes "base.wiring"\nreplace supply bell-tx { output 16 V AC, 30 VA }\n';
    const plan = (more: string) =>
      readRecord(parseWiring('file:///house/plan.wiring', text + more), { document: files }).installation.readings;
    expect(plan('')).toBeUndefined();
    expect(plan('readings on 2026-11-21 {\n    idle tx-to-hall.red, bell-tx.b 18 V\n}\n')).toHaveLength(1);
  });
});
