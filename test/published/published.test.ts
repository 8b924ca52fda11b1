// Published examples as records, solved as the command line solves them. Each record names its sources and says, in lines that start with //=,
// what was printed and what exactly follows from the same inputs: `//= volts load.a load.b: 295.0 printed, 295 exact`.
//
// What a record can't say, and so is in no record:
// - Bird, chapter 3 (examples 6 to 13): resistors by coefficients of their own (0.0043, 0.0038, -0.0005, 0.004 per degC) and wire by its bore and
//   resistivity; a record knows copper alone, at 0.00393 per degC from 20 degC on (IEC 60028).
// - NEC Chapter 9 Table 8, coated copper and aluminium; IEC 60228, metal-coated copper and its own 0.004 per degC: no such conductors in records.
// - 14 V open and 8 V at a buzzer (an issue thread): the amps are not stated, so nothing follows.
// - IEC 61558-2, limits of no-load volts: limits, and from memory.
// - Mehta, examples 13.20, 14.5 and 14.6: what is printed does not follow from the inputs.
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { ohmstead } from '../../packages/cli/test/ohmstead.js';
import { openFiles } from '../../packages/language/src/node.js';
import type { CheckedRecord } from '../../packages/language/src/pipeline.js';
import type { Budget } from '../../packages/record/src/index.js';

const folder = fileURLToPath(new URL('.', import.meta.url));
const records = readdirSync(folder)
  .filter((name) => name.endsWith('.wiring'))
  .sort();

/** A figure; of AC with its angle where `im` is given. */
interface Figure {
  readonly re: number;
  readonly im?: number;
}

interface Expected {
  readonly what: string;
  readonly of: readonly string[];
  readonly printed: { readonly figure: Figure; readonly within: number } | undefined;
  readonly exact: Figure;
}

const LINE =
  /^\/\/= (volts|lost|amps|watts|ohms|most-ohms) ([^:]+):(?: (\S+) printed(?: within ([\d.]+)( %)?)?,?)?(?: (\S+) exact)$/;

function expectationsOf(text: string): Expected[] {
  return text
    .split('\n')
    .filter((line) => line.startsWith('//='))
    .map((line) => {
      const match = LINE.exec(line);
      if (match === null) throw new Error(`an expectation that can't be read: ${line}`);
      const [, what, of, printed, within, percent, exact] = match;
      return { what: what!, of: of!.split(' '), printed: printedOf(printed, within, percent), exact: figureOf(exact!) };
    });
}

function figureOf(written: string): Figure {
  const parts = /^(-?[\d.e-]+?)(?:([+-])j([\d.e-]+))?$/.exec(written);
  if (parts === null) throw new Error(`no figure: ${written}`);
  const [, re, sign, im] = parts;
  return im === undefined ? { re: Number(re) } : { re: Number(re), im: Number(`${sign}${im}`) };
}

/** What was printed holds to half of its last digit, unless the line says otherwise. */
function printedOf(written: string | undefined, within: string | undefined, percent: string | undefined) {
  if (written === undefined) return undefined;
  const figure = figureOf(written);
  const digits = /\.(\d+)/.exec(written)?.[1]?.length ?? 0;
  const stated = within === undefined ? 0.5001 * 10 ** -digits : Number(within);
  return { figure, within: percent === undefined ? stated : (stated / 100) * figure.re };
}

/** The difference of a computed figure from an expected one: of sizes alone where no angle was given. */
function off(computed: Required<Figure>, expected: Figure): number {
  return expected.im === undefined
    ? Math.abs(Math.hypot(computed.re, computed.im) - expected.re)
    : Math.hypot(computed.re - expected.re, computed.im - expected.im);
}

function between(record: CheckedRecord, a: string, b: string): Required<Figure> {
  const circuit = record.analysis.circuits.find(({ circuit: { points } }) => points.includes(a) && points.includes(b));
  const volts = circuit?.at('nominal', [], 'idle')?.solution.between(a, b);
  if (volts === undefined || volts === null) throw new Error(`no volts from ${a} to ${b}`);
  return volts;
}

function elementId(record: CheckedRecord, name: string): string {
  const [run, colour] = name.split('.');
  const conductor = record.analysis.runs.get(run!)?.conductors.find((one) => one.colour === colour);
  return conductor?.id ?? `part/${name}/${record.analysis.parts.get(name)?.elements.findIndex(isWorking) ?? -1}`;
}

function isWorking({ element }: { readonly element: { readonly kind: string } }): boolean {
  return element.kind !== 'primary';
}

function figures(record: CheckedRecord, name: string) {
  const id = elementId(record, name);
  const found = record.analysis.circuitOfElement(id)?.at('nominal', [], 'idle')?.solution.element(id);
  if (found === undefined || found.amps === null) throw new Error(`no figures of ${name}`);
  return { volts: found.volts, amps: found.amps };
}

function computed(record: CheckedRecord, { what, of }: Expected): Required<Figure> {
  const [a = '', b = '', c = '', d = ''] = of;
  const size = ({ re, im }: Required<Figure>): number => Math.hypot(re, im);
  switch (what) {
    case 'volts':
      return between(record, a, b);
    case 'lost':
      return { re: size(between(record, a, b)) - size(between(record, c, d)), im: 0 };
    case 'amps':
      return figures(record, a).amps;
    case 'watts': {
      const each = of.map((name) => figures(record, name));
      return { re: each.reduce((sum, { volts, amps }) => sum + volts.re * amps.re + volts.im * amps.im, 0), im: 0 };
    }
    default: {
      const [run, colour] = a.split('.');
      const conductor = record.analysis.runs.get(run!)?.conductors.find((one) => one.colour === colour);
      const ohms = conductor?.ohms?.[what === 'ohms' ? 'nominal' : 'low'];
      if (ohms === undefined) throw new Error(`no ohms of ${a}`);
      return { re: ohms, im: 0 };
    }
  }
}

/** Exact figures are given to nine digits or more. */
const EXACT_WITHIN = 1e-8;

describe.each(records)('%s', (name) => {
  const text = readFileSync(`${folder}${name}`, 'utf8');
  const [opened] = openFiles([`${folder}${name}`]);

  it('is read without an error of the notation, and names its sources', () => {
    expect(text).toMatch(/^\/\/ \S/);
    if (opened === undefined || 'problem' in opened) throw new Error(`${name} is not read`);
    expect(opened.record.reading.findings).toEqual([]);
  });

  it.each(expectationsOf(text).map((one) => ({ ...one, title: `${one.what} ${one.of.join(' ')}` })))(
    '$title',
    (expected) => {
      if (opened === undefined || 'problem' in opened) throw new Error(`${name} is not read`);
      const found = computed(opened.record, expected);
      const size = Math.max(Math.hypot(expected.exact.re, expected.exact.im ?? 0), 1e-6);
      expect(off(found, expected.exact) / size, 'the exact value').toBeLessThan(EXACT_WITHIN);
      if (expected.printed === undefined) return;
      expect(off(found, expected.printed.figure), 'the printed value').toBeLessThanOrEqual(expected.printed.within);
    },
  );
});

describe('the built command', () => {
  const budgetOf = async (name: string): Promise<Budget> =>
    JSON.parse((await ohmstead(['budget', '--format', 'json', name], { cwd: folder })).out);

  it('prints the volts of feeders: 287.6 V at the end of example 13.1', async () => {
    const load = (await budgetOf('feeders-one-end.wiring')).devices.find(({ name }) => name === 'v20-b');
    expect(load?.elements[0]?.solved[0]?.volts).toBeCloseTo(287.6, 9);
  });

  it('prints the amps of a ring: 40.96 A back to A in example 13.23', async () => {
    const run = (await budgetOf('ring-mains.wiring')).runs.find(({ name }) => name === 'v31-back');
    expect(run?.conductors[0]?.solved[0]?.amps).toBeCloseTo(40.96, 2);
  });

  it('probes: 8 ohm behind 18 ohm at 20 V has 6.154 V (Kosow, example 14.8)', async () => {
    const run = await ohmstead(
      ['probe', 'transformers.wiring', 'kosow-8-load.a', 'kosow-8-load.b', '--format', 'json'],
      { cwd: folder },
    );
    const probed = JSON.parse(run.out) as { readonly solved: readonly { readonly volts: number }[] };
    expect(probed.solved[0]?.volts).toBeCloseTo(6.154, 3);
  });
});
