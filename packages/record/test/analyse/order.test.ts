import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyse, budgetOf, type Installation } from '../../src/index.js';
import { conductor, device, installation, jumper, metres, output, run, supply } from '../builder.js';

/** Two doors, one with a button and one with a doorbell, on one chime: loops, contacts and a constant-power load together. */
const HOUSE: Installation = installation({
  supplies: [
    supply('bell-tx', 'bell-transformer', output(16, 30)),
    supply('shed-tx', 'bell-transformer', output(16, 10)),
  ],
  devices: [
    device('hall-chime', 'two-note-chime'),
    device('porch-cam', 'video-doorbell', { ring: 'mechanical' }),
    device('back-button', 'push-button'),
    device('shed-chime', 'two-note-chime'),
    device('shed-button', 'push-button'),
  ],
  splices: [
    { name: 'joist-joint', notes: [] },
    { name: 'shed-joint', notes: [] },
  ],
  runs: [
    run('tx-to-hall', {
      ...metres(9),
      conductors: [
        conductor('red', 'bell-tx.a', 'hall-chime.trans'),
        conductor('white', 'joist-joint', 'hall-chime.front'),
        conductor('green', 'bell-tx.b', 'back-button.b'),
      ],
    }),
    run('tx-to-porch', {
      ...metres(12),
      conductors: [conductor('red', 'bell-tx.b', 'porch-cam.a'), conductor('white', 'joist-joint', 'porch-cam.b')],
    }),
    run('hall-to-back', {
      ...metres(5),
      conductors: [
        conductor('red', 'hall-chime.rear', 'back-button.a'),
        conductor('white', 'hall-chime.rear', 'back-button.a'),
      ],
    }),
    run('shed-run', {
      ...metres(25),
      conductors: [
        conductor('red', 'shed-tx.a', 'shed-chime.trans'),
        conductor('white', 'shed-joint', 'shed-chime.front'),
      ],
    }),
  ],
  jumpers: [jumper('shed-link', 'shed-joint', 'shed-button.a'), jumper('shed-return', 'shed-button.b', 'shed-tx.b')],
});

describe('order of statements', () => {
  it('changes no figure of the budget, to one part in a thousand million', () => {
    const expected = budgetOf(analyse(HOUSE), []);
    fc.assert(
      fc.property(shuffled(HOUSE), (reordered) => {
        expectAlike(budgetOf(analyse(reordered), []), expected);
      }),
      { numRuns: 60 },
    );
  });
});

function shuffled(house: Installation): fc.Arbitrary<Installation> {
  const anyOrder = <T>(items: readonly T[]): fc.Arbitrary<T[]> =>
    fc.shuffledSubarray([...items], { minLength: items.length, maxLength: items.length });
  const runs = fc.tuple(
    ...house.runs.map((one) => anyOrder(one.conductors).map((conductors) => ({ ...one, conductors }))),
  );
  return fc
    .record({
      supplies: anyOrder(house.supplies),
      devices: anyOrder(house.devices),
      splices: anyOrder(house.splices),
      runs: runs.chain(anyOrder),
      jumpers: anyOrder(house.jumpers),
    })
    .map((lists) => ({ ...house, ...lists }));
}

/** Conductors are listed in the order in which the record states them; all else has an order of its own. */
function expectAlike(actual: unknown, expected: unknown, path = 'budget'): void {
  if (typeof expected === 'number') {
    const tolerance = 1e-9 * Math.max(1, Math.abs(expected));
    expect(Math.abs((actual as number) - expected), path).toBeLessThanOrEqual(tolerance);
    return;
  }
  if (Array.isArray(expected)) {
    const [these, those] = [byColour(actual as unknown[]), byColour(expected)];
    expect(these.length, path).toBe(those.length);
    for (const [index, value] of those.entries()) expectAlike(these[index], value, `${path}[${index}]`);
    return;
  }
  if (typeof expected === 'object' && expected !== null) {
    expect(Object.keys(actual as object), path).toEqual(Object.keys(expected));
    for (const [key, value] of Object.entries(expected)) {
      expectAlike((actual as Record<string, unknown>)[key], value, `${path}.${key}`);
    }
    return;
  }
  expect(actual, path).toBe(expected);
}

function byColour(items: readonly unknown[]): readonly unknown[] {
  const colour = (item: unknown): string =>
    typeof item === 'object' && item !== null && 'colour' in item ? String(item.colour) : '';
  return [...items].sort((a, b) => (colour(a) < colour(b) ? -1 : colour(a) > colour(b) ? 1 : 0));
}
