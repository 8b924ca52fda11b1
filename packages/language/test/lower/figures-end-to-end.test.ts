import { describe, expect, it } from 'vitest';
import { checkRecord } from '../../src/pipeline.js';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';

function analyse(text: string) {
  const { reading, analysis } = checkRecord(readRecord(parseWiring('file:///w/a.wiring', text)));
  expect(reading.findings.map(({ message }) => message)).toEqual([]);
  return analysis;
}

/** Volts between two points at nominal mains, with the contacts named held. */
function volts(text: string, a: string, b: string, held: readonly string[] = []): number {
  const analysis = analyse(text);
  const between = analysis.circuits[0]!.at('nominal', held, 'idle')!.solution.between(a, b)!;
  return Math.hypot(between.re, between.im);
}

/** One source that gives 16 V whatever is asked of it, and a resistor on 100 m of 18/2. */
function lit(options: { place?: string; run?: string; supply?: string; load?: string; winding?: string } = {}) {
  return `supply type source {
    terminal a, b
    winding a to b { ${options.winding ?? '16 V AC, 100 VA, no-load 16 V'} }
}
device type heater {
    terminal a, b
    ${options.load ?? 'resistor a to b { 10 ohm, 50 W }'}
}
place attic${options.place ?? ''}
supply tx : source in attic${options.supply ?? ''}
device heat : heater in attic
run feed : 18/2 from attic to attic, ${options.run ?? '100 m'} {
    red    tx.a to heat.a
    white  tx.b to heat.b
}
`;
}

const ohmsOf = (text: string) =>
  analyse(text)
    .runs.get('feed')!
    .conductors.map(({ ohms }) => ohms!.nominal);

describe('figures of a record, through to what the circuit does', () => {
  it("a place's temperature warms the conductors in it", () => {
    const at20 = ohmsOf(lit({ place: ' { temperature 20 degC }' }))[0]!;
    const at50 = ohmsOf(lit({ place: ' { temperature 50 degC }' }))[0]!;
    // IEC 60228: copper gains 0.393 % a degree from 20 degC.
    expect(at50 / at20).toBeCloseTo(1 + 0.00393 * 30, 5);
    expect(ohmsOf(lit({ place: ' { temperature 122 degF }' }))[0]).toBeCloseTo(at50, 9);
    const text = lit({ place: ' { temperature 50 degC }' });
    expect(volts(text, 'heat.a', 'heat.b')).toBeCloseTo((16 * 10) / (10 + 2 * at50), 9);
  });

  it('a loop stands in place of a length, half of it in each conductor', () => {
    const text = lit({ run: 'loop 1.2 ohm' });
    expect(ohmsOf(text)).toEqual([0.6, 0.6]);
    expect(volts(text, 'heat.a', 'heat.b')).toBeCloseTo((16 * 10) / 11.2, 9);
  });

  it('what a meter said of a supply comes before its label', () => {
    const measured = 'measured open 17.9 V\n    measured 15.1 V at 0.62 A';
    const supply = (facts: string) => ` {\n    ${facts}\n}`;
    const load = `resistor a to b { ${15.1 / 0.62} ohm, 50 W }`;
    const text = lit({ winding: '16 V AC, 10 VA', supply: supply(measured), run: 'loop 0.000001 ohm', load });
    expect(volts(text, 'tx.a', 'tx.b')).toBeCloseTo(15.1, 4);
    const idle = lit({ winding: '16 V AC, 10 VA', supply: supply('measured open 17.9 V'), load: 'contact a to b' });
    expect(volts(idle, 'tx.a', 'tx.b')).toBeCloseTo(17.9, 9);
  });

  it.each([
    ['', 4],
    ['together at most 1', 3],
    ['never together r-w, r-y', 3],
    ['together at most 2, never together r-w, r-y', 3],
    ['never together r-w, r-y, together at most 2', 3],
  ])('contacts that are never closed together make no state of the circuit: %s', (fact, count) => {
    const load = `terminal r, w, y\n    contact r to w maintained\n    contact r to y maintained\n    ${fact}`;
    const text = `${lit()}device type stat {\n    ${load}\n}\ndevice wall : stat
jumper wall.r to tx.a\njumper wall.w to heat.a\njumper wall.y to heat.b\n`;
    const circuit = analyse(text).circuits.find(({ devices }) => devices.includes('wall'))!;
    expect(circuit.states).toHaveLength(count);
  });

  it('an instance may say which of its contacts are never closed together', () => {
    const type =
      'device type stat {\n    terminal r, w, y\n    contact r to w maintained\n    contact r to y maintained\n}\n';
    const states = (facts: string) =>
      analyse(`${lit()}${type}device wall : stat${facts}
jumper wall.r to tx.a\njumper wall.w to heat.a\njumper wall.y to heat.b\n`).circuits.find(({ devices }) =>
        devices.includes('wall'),
      )!.states.length;
    expect(states('')).toBe(4);
    expect(states(' { never together r-w, r-y }')).toBe(3);
    expect(states(' { together at most 1 }')).toBe(3);
  });

  it('each tap of a winding gives its own volts', () => {
    const tapped = (terminal: string) => `supply type source {
    terminal 0, 8, 12, 16
    winding 0 to 16 { taps 0, 8, 12, 16 V, 100 VA, no-load 16 V }
}
device type heater {\n    terminal a, b\n    resistor a to b { 10 ohm, 50 W }\n}
supply tx : source
device heat : heater
jumper tx.0 to heat.a
jumper tx.${terminal} to heat.b
`;
    for (const terminal of ['8', '12', '16']) {
      expect(volts(tapped(terminal), 'heat.a', 'heat.b')).toBeCloseTo(Number(terminal), 9);
    }
  });

  it.each([
    ['', 32],
    [', phase 180 deg', 0],
    [', phase 90 deg', 16 * Math.SQRT2],
    [', phase -120 deg', 16],
  ])('two windings in series add by their phases: %s', (phase, sum) => {
    const text = `supply type source {
    terminal a, b, c, d
    winding a to b { 16 V AC, 100 VA, no-load 16 V }
    winding c to d { 16 V AC, 100 VA, no-load 16 V${phase} }
}
device type heater {\n    terminal a, b\n    resistor a to b { 10 ohm, 50 W }\n}
supply tx : source
device heat : heater
jumper tx.b to tx.c
jumper tx.a to heat.a
jumper tx.d to heat.b
`;
    expect(volts(text, 'heat.a', 'heat.b')).toBeCloseTo(sum, 9);
  });

  it('a reactance turns the current, and a negative one turns it back', () => {
    const through = (load: string, run = 'loop 2 ohm') => {
      const analysis = analyse(lit({ load, run }));
      const id = analysis.parts.get('heat')!.elements[0]!.id;
      const { amps } = analysis.circuits[0]!.at('nominal', [], 'idle')!.solution.element(id)!;
      return Math.hypot(amps!.re, amps!.im);
    };
    expect(through('impedance a to b { 5 ohm, reactance 7 ohm }')).toBeCloseTo(16 / Math.hypot(7, 7), 9);
    expect(through('impedance a to b { 5 ohm, reactance -7 ohm }')).toBeCloseTo(16 / Math.hypot(7, 7), 9);
    expect(through('impedance a to b { 5 ohm }')).toBeCloseTo(16 / 7, 9);
  });

  it("a winding's own reactance counts with its resistance", () => {
    const text = lit({
      winding: '16 V AC, 16 VA, no-load 20 V, reactance 3 ohm',
      run: 'loop 0.000001 ohm',
      load: 'resistor a to b { 16 ohm, 50 W }',
    });
    const { ohms, reactance } = analyse(text).parts.get('tx')!.elements[0]!;
    expect(reactance).toBe(3);
    // At its rated 1 A it gives its rated 16 V.
    expect(20 / Math.hypot(16 + ohms!, 3)).toBeCloseTo(1, 6);
    expect(volts(text, 'heat.a', 'heat.b')).toBeCloseTo(16, 4);
  });
});
