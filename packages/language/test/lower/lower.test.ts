import { at } from '@ohmstead/record';
import { describe, expect, it } from 'vitest';
import { rangeOf } from '../../src/lower/sites.js';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';

const places = 'place attic\nplace hall\n';

function read(text: string) {
  const reading = readRecord(parseWiring('file:///w/a.wiring', text));
  expect(reading.findings.map(({ message }) => message)).toEqual([]);
  return reading;
}

function device(facts: string) {
  return read(`device cam : video-doorbell {\n${facts}\n}\n`).installation.devices[0]!.facts;
}

function supply(facts: string) {
  return read(`supply tx : bell-transformer {\n${facts}\n}\n`).installation.supplies[0]!.facts;
}

function run(head: string, facts = '') {
  return read(`${places}run r : ${head} {\n${facts}\n}\n`).installation.runs[0]!;
}

describe('quantities', () => {
  it.each([
    ['16 V', 16, 16, undefined],
    ['16V', 16, 16, undefined],
    ['16 V AC', 16, 16, 'AC'],
    ['16VAC', 16, 16, 'AC'],
    ['24 VDC', 24, 24, 'DC'],
    ['24 v dc', 24, 24, 'DC'],
    ['16..24 V AC', 16, 24, 'AC'],
    ['16-24 VAC', 16, 24, 'AC'],
    ['16 – 24 V', 16, 24, undefined],
    ['16500 mV', 16.5, 16.5, undefined],
    ['about 16 V', 16, 16, undefined],
  ])('volts: %s', (written, least, most, system) => {
    expect(device(`rating ${written}`).rating).toEqual({ volts: { least, most }, ...(system ? { system } : {}) });
  });

  it.each([
    ['16 V, 10 VA', { voltAmperes: 10 }],
    ['16 V, 5 W', { watts: 5 }],
    ['16 V, 350 mA', { amps: 0.35 }],
    ['16 V AC, 50/60 Hz, 1 A', { amps: 1, system: 'AC' }],
    ['16 V,\n 10 VA', { voltAmperes: 10 }],
  ])('ratings: %s', (written, expected) => {
    expect(device(`rating ${written}`).rating).toMatchObject(expected);
  });

  it.each([
    ['9 m', 9],
    ['30 ft', 30 * 0.3048],
    ['21 ft 6 in', 21.5 * 0.3048],
    [`21' 6"`, 21.5 * 0.3048],
    ["21'", 21 * 0.3048],
    ['21 ft 6 1/2 in', 21 * 0.3048 + 6.5 * 0.0254],
    ['1/2 in', 0.0127],
    ['350 cm', 3.5],
  ])('lengths: %s', (written, metres) => {
    expect(run(`18/2, ${written}`).length?.value).toBeCloseTo(metres, 12);
  });

  it('keep what was not measured apart', () => {
    expect(run('18/2, about 40 ft').length).toEqual({ value: 40 * 0.3048, about: true });
    expect(run('18/2, loop 1.2 ohm')).toMatchObject({ loopOhms: { value: 1.2 } });
    expect(run('18/2', 'loop about 0.0012 kohm')).toMatchObject({
      loopOhms: { value: 1.2, about: true },
    });
  });

  it.each([
    ['50 degC', 50],
    ['-20 degC', -20],
    ['50 °C', 50],
    ['122 degF', 50],
  ])('temperatures: %s', (written, degrees) => {
    expect(read(`place attic { temperature ${written} }\n`).installation.places[0]?.temperature).toBeCloseTo(
      degrees,
      9,
    );
  });

  it.each([
    ['25 ohm', 25],
    ['25 Ω', 25],
    ['25 \u2126', 25],
    ['3.3 kohm', 3300],
    ['3.3 kΩ', 3300],
  ])('ohms: %s', (written, ohms) => {
    const { installation } = read(`device type r { terminal a, b\n resistor a to b { ${written} }\n}\n`);
    expect(installation.partTypes.get('r')?.elements[0]).toMatchObject({ kind: 'resistor', ohms });
  });
});

describe('facts of supplies and devices', () => {
  it('are lowered to SI', () => {
    expect(
      supply(`output 16 V AC, 10 VA
        no-load 19.8 V
        accepts 20 AWG or thicker
        measured open 17.9 V
        measured 15.1 V at 620 mA
        note "On the joist."
        label "BELL TX"
        photo "photos\\new.jpg"
        installed 2026-11-20`),
    ).toEqual({
      outputs: [{ volts: 16, system: 'AC', voltAmperes: 10 }],
      noLoadVolts: 19.8,
      accepts: { thinnest: { kind: 'awg', awg: 20 } },
      measuredOpenVolts: 17.9,
      measuredLoaded: { volts: 15.1, amps: 0.62 },
      notes: ['On the joist.'],
      labels: ['BELL TX'],
      photos: ['photos\\new.jpg'],
      installed: '2026-11-20',
    });
    expect(
      device('needs supply 10..40 VA\nring mechanical\nlimits 12..30 V\ntogether at most 2, outdoor'),
    ).toMatchObject({
      needsSupply: { least: 10, most: 40 },
      ring: 'mechanical',
      limits: { least: 12, most: 30 },
      togetherAtMost: 2,
      outdoor: true,
    });
    expect(device('needs supply 10 VA or more').needsSupply).toEqual({ least: 10 });
  });

  it('take sizes as ranges, the thicker wire having the smaller AWG number', () => {
    expect(device('accepts 22..16 AWG').accepts).toEqual(device('accepts 16-22 AWG').accepts);
    expect(device('accepts 16..22 AWG').accepts).toEqual({
      thinnest: { kind: 'awg', awg: 22 },
      thickest: { kind: 'awg', awg: 16 },
    });
    expect(device('accepts 0.5..1.5 mm2').accepts).toEqual({
      thinnest: { kind: 'area', mm2: 0.5 },
      thickest: { kind: 'area', mm2: 1.5 },
    });
  });

  it('name taps', () => {
    const text = `supply tx : tri-volt-transformer {\n output middle 16 V AC, 30 VA\n output low 8 V, 1 A\n}\n`;
    expect(read(text).installation.supplies[0]?.facts.outputs).toEqual([
      { tap: 'middle', volts: 16, system: 'AC', voltAmperes: 30 },
      { tap: 'low', volts: 8, amps: 1 },
    ]);
  });

  it('land leads on terminals of other parts', () => {
    const { installation } = read(
      'device c : two-note-chime\ndevice k : bypass-kit {\n lands a on c.trans\n lands b on c.front\n}\n',
    );
    expect(installation.devices[1]?.lands).toEqual([
      { terminal: 'a', on: { part: 'c', terminal: 'trans' } },
      { terminal: 'b', on: { part: 'c', terminal: 'front' } },
    ]);
  });
});

describe('cables', () => {
  it.each([
    ['18/2', { kind: 'awg', awg: 18 }, ['red', 'white']],
    ['18-2', { kind: 'awg', awg: 18 }, ['red', 'white']],
    ['18/8', { kind: 'awg', awg: 18 }, ['red', 'white', 'green', 'blue', 'yellow', 'brown', 'orange', 'black']],
    ['14/2 with ground', { kind: 'awg', awg: 14 }, ['black', 'white', 'bare']],
    ['2 x 0.5 mm2', { kind: 'area', mm2: 0.5 }, ['red', 'white']],
    ['2x0.5 mm²', { kind: 'area', mm2: 0.5 }, ['red', 'white']],
    ['4 x 0.22 mm2 stranded', { kind: 'area', mm2: 0.22 }, ['red', 'white', 'green', 'blue']],
    ['2 x 2 x 0.6 mm', { kind: 'diameter', mm: 0.6 }, ['red', 'white', 'green', 'blue']],
    ['2 x 18 AWG', { kind: 'awg', awg: 18 }, ['red', 'white']],
  ])('%s', (written, size, colours) => {
    const { cable, cableWords } = run(`${written} from attic to hall, 9 m`);
    expect(cableWords).toBe(written);
    expect(cable).toMatchObject({ colours, stranded: written.endsWith('stranded') });
    expect(cable?.size).toEqual({ ...size, ...(size.kind === 'diameter' ? { mm: expect.closeTo(0.6, 12) } : {}) });
  });

  it('count the ground of a cable by its cores', () => {
    expect(run('3G1.5, 9 m').cable).toMatchObject({
      size: { kind: 'area', mm2: 1.5 },
      colours: ['black', 'white', 'bare'],
      withGround: true,
    });
  });

  it('take what else is printed on them, and the length on either side of the places', () => {
    const long = run('18/2 copper-clad aluminium shielded listed CL2 direct-burial, 9 m from attic to hall');
    expect(long).toMatchObject({ fromPlace: 'attic', toPlace: 'hall', length: { value: 9 } });
    expect(long.cable).toMatchObject({
      material: 'copper-clad-aluminium',
      shielded: true,
      listed: ['CL2'],
      outdoor: true,
      directBurial: true,
    });
  });

  it('of a type have its resistance and colours', () => {
    const type = 'cable type c "C" {\n conductors 18 AWG red, red/white\n resistance 21 ohm per km\n listed CL2\n}\n';
    const { installation } = read(`${type}run r : c stranded, 9 m {\n white/red spare\n}\n`);
    expect(installation.runs[0]).toMatchObject({
      cable: {
        name: 'c',
        words: 'C',
        colours: ['red', 'red/white'],
        ohmsPerMetre: 0.021,
        stranded: true,
        shipped: false,
      },
      conductors: [{ colour: 'red/white', spare: true }],
    });
  });

  it('may have numbered conductors', () => {
    const { cable, conductors } = run('18/3, 9 m', '1 capped to unknown\n2 spare');
    expect(cable?.colours).toEqual(['1', '2', '3']);
    expect(conductors).toEqual([
      { colour: '1', from: { kind: 'capped' }, to: { kind: 'unknown' }, spare: false },
      { colour: '2', spare: true },
    ]);
  });
});

describe('types', () => {
  it('share a closing `holds` and keep each terminal its own marks', () => {
    const { installation } = read(
      'device type t {\n terminal 0 "0 V", 8 hot holds 1, c optional holds 3\n coil 0 to 8 { 8 V, 1 A, dc 6 ohm, hums off }\n contact 0 to 8 or c normally-closed maintained\n}\n',
    );
    expect(installation.partTypes.get('t')).toMatchObject({
      terminals: [
        { name: '0', words: '0 V', optional: false, holds: 3 },
        { name: '8', lineSide: 'hot', holds: 1 },
        { name: 'c', optional: true, holds: 3 },
      ],
      elements: [
        { kind: 'coil', a: '0', b: '8', asRated: false, volts: 8, amps: 1, dcOhms: 6, humsFrom: 'off' },
        { kind: 'contact', a: '0', b: '8', restTo: 'c', maintained: true, normallyClosed: true },
      ],
    });
  });

  it('have every element of the notation', () => {
    const { installation } = read(`supply type s {
      terminal 0, 8, 12, 16, l, n
      primary l to n { 120 V AC, 60 Hz }
      winding 0 to 16 { taps 0, 8, 12, 16 V, 20 VA, no-load 20 V, phase 180 deg, reactance -0.5 ohm }
    }
    device type d {
      terminal a, b
      load a to b { draws 3 W, peaks 8 VA, power-factor 0.6, stays-on from 10 V }
      load a to b { draws 350 mA }
      resistor a to b { 25 ohm, 10 W }
      lamp a to b { 16 V, 50 mA }
      impedance a to b { 5 ohm, reactance 7 ohm }
      bypass a to b { 3 ohm, opens above 0.8 A }
      diode a to b
      link a to b
    }\n`);
    expect(installation.partTypes.get('s')?.elements).toMatchObject([
      { kind: 'primary', volts: 120, system: 'AC', frequency: 60 },
      { kind: 'winding', asRated: false, voltAmperes: 20, noLoadVolts: 20, phase: 180, reactance: -0.5 },
    ]);
    expect(installation.partTypes.get('d')?.elements.map(({ a: _a, b: _b, asRated: _r, ...rest }) => rest)).toEqual([
      {
        kind: 'load',
        draws: { unit: 'W', value: 3 },
        peaks: { unit: 'VA', value: 8 },
        powerFactor: 0.6,
        staysOnFrom: 10,
      },
      { kind: 'load', draws: { unit: 'A', value: 0.35 } },
      { kind: 'resistor', ohms: 25, watts: 10 },
      { kind: 'lamp', volts: 16, watts: 0.8 },
      { kind: 'impedance', ohms: 5, reactance: 7 },
      { kind: 'bypass', ohms: 3, opensAbove: 0.8 },
      { kind: 'diode' },
      { kind: 'link' },
    ]);
  });

  it('hold back their users when they can not be read', () => {
    const text = 'device type t {\n terminal a, b\n resistor a to b { 25 volts }\n}\ndevice d : t\n';
    const { installation, findings } = readRecord(parseWiring('file:///w/a.wiring', text));
    expect(findings.map(({ code }) => code)).toEqual(['unit-mismatch']);
    expect(installation.broken).toContain('d');
  });
});

describe('names', () => {
  it('may be statement words, fact words and words of any language', () => {
    const text = `device output : push-button\ndevice run : push-button\nsplice in\nsplice κουδούνι-1\nsplice звонок\nsplice ベル
run load : 18/3, 9 m {
    red output.a to run.a
    white in to κουδούνι-1
    green звонок to ベル
}\n`;
    expect(read(text).installation.runs[0]?.conductors.map(({ to }) => to)).toEqual([
      { kind: 'on', end: { part: 'run', terminal: 'a' } },
      { kind: 'on', end: { part: 'κουδούνι-1' } },
      { kind: 'on', end: { part: 'ベル' } },
    ]);
  });

  it('of unnamed jumpers follow their ends, whatever the order of statements', () => {
    const parts = 'device c : two-note-chime\nsplice s\n';
    const one = 'jumper s to c.trans\n';
    const other = 'jumper c.front to c.rear\npigtail keep : s to c.rear\n';
    const named = (text: string) =>
      new Map(read(text).installation.jumpers.map(({ name, kind, from }) => [name, `${kind} ${from.part}`]));
    const expected = new Map([
      ['jumper-1', 'jumper c'],
      ['jumper-2', 'jumper s'],
      ['keep', 'pigtail s'],
    ]);
    expect(named(parts + one + other)).toEqual(expected);
    expect(named(other + one + parts)).toEqual(expected);
  });

  it('are found with their uses, in the library too', () => {
    const text = 'device c : two-note-chime in hall\nplace hall\nsplice s\njumper s to c.trans\n';
    const { names, document, sourceMap } = read(text);
    const uses = names
      .usesIn(document)
      .map(({ symbol, declares, offset }) => [symbol.kind, symbol.name, declares, offset]);
    expect(uses).toEqual([
      ['device', 'c', true, 7],
      ['device type', 'two-note-chime', false, 11],
      ['place', 'hall', false, 29],
      ['place', 'hall', true, 40],
      ['splice', 's', true, 52],
      ['splice', 's', false, 61],
      ['device', 'c', false, 66],
      ['terminal', 'trans', false, 68],
    ]);
    const terminal = names.at(document, 70)!;
    expect(terminal.symbol.shipped).toBe(true);
    expect(terminal.symbol.declarations[0]!.document.uri).toBe('ohmstead-library:/chimes.wiring');
    expect(
      terminal.symbol.declarations[0]!.document.text.split('\n')[rangeOf(terminal.symbol.declarations[0]!).start.line],
    ).toContain('TRANS');
    expect(sourceMap.locate(at.jumperEnd('jumper-1', 'to'))?.range.start).toEqual({ line: 3, character: 12 });
    expect(sourceMap.locate(at.fact('c', 'rating'))?.range.start).toEqual({ line: 0, character: 7 });
  });
});

describe('text of all kinds', () => {
  const plain =
    'wiring "T"\nplace attic { outdoor, wet }\nsupply tx : bell-transformer in attic {\n    output 16 V AC, 10 VA\n}\n';
  const expected = read(plain).installation;
  it.each([
    ['Windows line ends', plain.replaceAll('\n', '\r\n')],
    ['old line ends', plain.replaceAll('\n', '\r')],
    ['tabs', plain.replaceAll('    ', '\t')],
    ['no-break spaces', plain.replaceAll(' ', '\u00a0')],
    ['a byte-order mark', `\uFEFF${plain}`],
    ['upper case', plain.replace(/wiring|place|supply|output|outdoor|wet|in |ac,|va/gi, (word) => word.toUpperCase())],
    ['indented statements', plain.replace(/^/gm, '  ')],
    ['comments', plain.replaceAll('\n', ' // here { "\n').replace('16 V', '16 /* volts } */ V')],
    ['braces on lines of their own', plain.replace(' {\n', '\n{\n')],
    ['no last line end', plain.trimEnd()],
  ])('means the same: %s', (_what, text) => {
    expect(read(text).installation).toEqual(expected);
  });
});
