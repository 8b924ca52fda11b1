// What a meter is expected to show, against dividers worked out by hand: the winding, the wires, joints and the coil in one loop.
import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse/analyse.js';
import { Gauge, type Spot } from '../../src/explain/gauge.js';
import { House } from '../../src/explain/house.js';
import { suspectsOf } from '../../src/explain/hypotheses.js';
import { nuisancesOf } from '../../src/explain/nuisances.js';
import { Operation } from '../../src/explain/operate.js';
import { IDLE, liveAs, SOUND, type Variant } from '../../src/explain/variants.js';
import { sound } from '../../src/explain/practice.js';
import { weigh } from '../../src/explain/weigh.js';
import { device, plainBell, supply } from '../builder.js';

const analysis = analyse(plainBell());
const house = new House(analysis);
const suspects = suspectsOf(house);
const operation = new Operation(house, nuisancesOf(house));
const gauge = new Gauge(operation, 1);
const held = liveAs(['porch-button']);

const ofKind = (kind: string) => house.branches.find((branch) => branch.kind === kind)!;
const winding = ofKind('winding');
const coil = house.branches.find(({ kind, b }) => kind === 'coil' && house.nodes[b] === 'hall-chime.front')!;
const emf = Math.hypot(winding.emf.re, winding.emf.im);
const wires = house.branches.filter(({ kind }) => kind === 'wire').reduce((sum, { ohms }) => sum + ohms, 0);
/** Of eight joints, besides the contact. */
const loop = {
  ohms: winding.ohms + wires + 8 * sound.joint + coil.ohms,
  reactance: winding.reactance + coil.reactance,
};

const across = (a: string, b: string, more: Partial<Extract<Spot, { kind: 'volts' }>> = {}): Spot => ({
  kind: 'volts',
  a: house.known(a)!,
  b: house.known(b)!,
  live: IDLE,
  block: 0,
  meterOhms: 1e7,
  signed: false,
  ...more,
});
const variant = (kind: string, on: string, step = 0): Variant =>
  suspects.find((one) => one.kind === kind && one.on === on)!.variants[step]!;

describe('volts', () => {
  test('across the winding at rest are its own', () => {
    expect(gauge.gauge(SOUND, across('bell-tx.a', 'bell-tx.b')).value).toBeCloseTo(emf, 4);
  });

  test('across the coil while the push is held are its share of the loop', () => {
    const ohms = loop.ohms + sound.contact;
    const expected = (emf * Math.hypot(coil.ohms, coil.reactance)) / Math.hypot(ohms, loop.reactance);
    const found = gauge.gauge(SOUND, across('hall-chime.trans', 'hall-chime.front', { live: held }));
    expect(found.value).toBeCloseTo(expected, 4);
  });

  test('across a corroded contact are its share, step by step', () => {
    for (const step of [0, 2, 4]) {
      const corroded = variant('contact-corroded', 'porch-button', step);
      const [ohms] = corroded.made!.values();
      const expected = (emf * ohms!) / Math.hypot(loop.ohms + ohms!, loop.reactance);
      const found = gauge.gauge(corroded, across('porch-button.a', 'porch-button.b', { live: held }));
      expect(found.value).toBeCloseTo(expected, 4);
    }
  });

  test('across the open push are all but what a meter of few ohms takes', () => {
    for (const meterOhms of [1e7, 1000, 60]) {
      // The meter's load counts by size alone: it is resistance, and so is most of the loop.
      const expected = (emf * meterOhms) / (meterOhms + Math.hypot(loop.ohms, loop.reactance));
      const found = gauge.gauge(SOUND, across('porch-button.a', 'porch-button.b', { meterOhms }));
      expect(found.value).toBeCloseTo(expected, 4);
    }
  });

  test('hang free behind a conductor that is broken at both sides of the meter', () => {
    const open = variant('conductor-open', 'tx-to-hall.red');
    expect(gauge.gauge(open, across('hall-chime.trans', 'bell-tx.a')).floating).toBe(true);
    expect(gauge.gauge(SOUND, across('hall-chime.trans', 'bell-tx.a')).floating).toBe(false);
  });
});

test('a slope is what the figure changes by: half a band of mains, half a band of coil', () => {
  const spot = across('hall-chime.trans', 'hall-chime.front', { live: held });
  const { value, gradient, axes } = gauge.gauge(SOUND, spot);
  const slopeOf = (words: string): number =>
    gradient[axes.indexOf(operation.nuisances.findIndex((nuisance) => nuisance.words === words))]!;
  expect(slopeOf('the mains')).toBeCloseTo(0.05 * value, 6);
  const branch = house.branches.indexOf(coil);
  const step = 0.001;
  const more: Variant = {
    share: 1,
    changes: [{ branch, ohms: coil.ohms * (1 + step), reactance: coil.reactance * (1 + step) }],
  };
  const turned = (gauge.gauge(more, spot).value - value) / step;
  expect(slopeOf('the coil of `hall-chime`')).toBeCloseTo(0.3 * turned, 2);
});

test('what is read narrows what is expected, and moves it', () => {
  const across0 = across('bell-tx.a', 'bell-tx.b');
  const inLoop = across('porch-button.a', 'porch-button.b');
  const before = weigh(gauge, SOUND, []).expect(inLoop);
  const after = weigh(gauge, SOUND, [{ kind: 'figure', spot: across0, figure: 1.04 * emf }]).expect(inLoop);
  expect(after.variance).toBeLessThan(before.variance / 4);
  expect(after.mean / before.mean).toBeGreaterThan(1.03);
  expect(after.mean / before.mean).toBeLessThan(1.045);
});

describe('ohms with the supply lifted', () => {
  const ohms = (a: string, b: string, pressed: readonly string[] = []): Spot => ({
    kind: 'ohms',
    a: house.known(a)!,
    b: house.known(b)!,
    live: liveAs(pressed),
  });

  test('of a push are open at rest, its contact alone while it is held', () => {
    expect(gauge.gauge(SOUND, ohms('porch-button.a', 'porch-button.b')).tells).toBe('open');
    const made = gauge.gauge(SOUND, ohms('porch-button.a', 'porch-button.b', ['porch-button']));
    expect(made.tells).toBe('ohms');
    expect(made.value).toBeCloseTo(sound.contact, 5);
    const stuck = variant('contact-stuck-open', 'porch-button');
    expect(gauge.gauge(stuck, ohms('porch-button.a', 'porch-button.b', ['porch-button'])).tells).toBe('open');
  });

  test('of a coil without a figure for DC are some', () => {
    expect(gauge.gauge(SOUND, ohms('hall-chime.trans', 'hall-chime.front')).tells).toBe('some');
  });

  test('along one conductor are its own and its joints', () => {
    const wire = house.conductors.find(({ run, colour }) => run === 'tx-to-hall' && colour === 'red')!.wire;
    const found = gauge.gauge(SOUND, ohms('bell-tx.a', 'hall-chime.trans'));
    expect(found.value).toBeCloseTo(house.branches[wire]!.ohms + 2 * sound.joint, 6);
  });
});

test('two houses that nothing joins have nothing to do with each other', () => {
  const one = plainBell();
  const two = analyse({
    ...one,
    supplies: [...one.supplies, supply('other-tx', 'bell-transformer')],
    devices: [...one.devices, device('other-chime', 'two-note-chime')],
  });
  const both = new House(two);
  const apart = new Gauge(new Operation(both, nuisancesOf(both)), 1);
  const spot = (a: string, b: string): Spot => ({
    kind: 'volts',
    a: both.known(a)!,
    b: both.known(b)!,
    live: IDLE,
    block: 0,
    meterOhms: 1e7,
    signed: false,
  });
  const between = apart.gauge(SOUND, spot('bell-tx.a', 'other-tx.a'));
  expect(between).toMatchObject({ value: 0, floating: true });
  expect(apart.gauge(SOUND, spot('bell-tx.a', 'bell-tx.b')).value).toBeCloseTo(emf, 4);
});
