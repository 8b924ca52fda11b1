// Figures at mains volts and a wire temperature that somebody chose: what follows them, and what stays as it is judged.
import { readFileSync } from 'node:fs';
import { checkRecord, parseWiring, readRecord } from '@ohmstead/language';
import { analysisAt, budgetAt, valueRanges } from '@ohmstead/record';
import { expect, test } from 'vitest';

const source = readFileSync(new URL('../../../examples/as-found-bell.wiring', import.meta.url), 'utf8');
const record = checkRecord(readRecord(parseWiring('file:///records/any.wiring', source)));
const { analysis } = record;
const at = (values: Parameters<typeof analysisAt>[1]) => budgetAt(record.budget(), analysisAt(analysis, values));

const coil = (budget: ReturnType<typeof at>) =>
  budget.devices.find(({ name }) => name === 'hall-chime')!.elements.find(({ kind }) => kind === 'coil')!;
const held = (budget: ReturnType<typeof at>) =>
  coil(budget).solved.find(({ closed }) => closed.includes('porch-button'))!;

test('at the nominal values every figure is the nominal one', () => {
  const { nominal } = valueRanges('north-america').mainsVolts;
  const same = at({ mainsVolts: nominal });
  expect(held(same).volts).toBeCloseTo(held(record.budget()).volts!, 9);
  expect(same.runs).toEqual(record.budget().runs);
});

test('a circuit of one source without loads of constant power follows the mains in proportion', () => {
  const { least, nominal } = valueRanges('north-america').mainsVolts;
  expect(least).toBe(114);
  expect(held(at({ mainsVolts: least })).volts! / held(record.budget()).volts!).toBeCloseTo(least / nominal, 9);
});

test('copper at 60 degC has 1.1572 times its ohms at 20 degC (0.00393 per kelvin), and the device gets less', () => {
  const warm = at({ wireCelsius: 60 });
  const ohms = (budget: typeof warm) => budget.runs.map(({ conductors }) => conductors.map((each) => each.ohms!));
  for (const [nth, run] of ohms(warm).entries())
    for (const [index, each] of run.entries())
      expect(each / ohms(record.budget())[nth]![index]!).toBeCloseTo(1 + 0.00393 * 40, 9);
  expect(held(warm).volts!).toBeLessThan(held(record.budget()).volts!);
});

test('extremes, shares at worst and findings stay as they are judged', () => {
  const low = at({ mainsVolts: 114, wireCelsius: 60 });
  expect(coil(low).least).toEqual(coil(record.budget()).least);
  expect(coil(low).most).toEqual(coil(record.budget()).most);
  expect(low.supplies[0]!.windings[0]!.worst).toEqual(record.budget().supplies[0]!.windings[0]!.worst);
  expect(low.findings).toEqual(record.budget().findings);
});

test('low mains and warm wire give what the low corner gives', () => {
  const { mainsVolts, wireCelsius } = valueRanges('north-america');
  const chosen = analysisAt(analysis, { mainsVolts: mainsVolts.least, wireCelsius: wireCelsius.most });
  const circuit = analysis.circuits.find(({ devices }) => devices.includes('hall-chime'))!;
  const id = [...analysis.elements.values()].find(
    (each) => each.part === 'hall-chime' && each.element.kind === 'coil',
  )!.id;
  const volts = (solved: ReturnType<typeof circuit.at>) => {
    const figures = solved!.solution.problem === undefined ? solved!.solution.element(id) : undefined;
    return Math.hypot(figures!.volts.re, figures!.volts.im);
  };
  const corner = circuit.at('low', ['porch-button'], 'idle');
  const same = chosen.circuitOfElement(id)!.at('nominal', ['porch-button'], 'idle');
  expect(volts(same)).toBeCloseTo(volts(corner), 6);
});
