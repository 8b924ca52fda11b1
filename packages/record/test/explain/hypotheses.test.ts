// What may be wrong with a small bell: every place that there is, each with its share, and nothing that the house cannot have.
import { describe, expect, test } from 'vitest';
import { House } from '../../src/explain/house.js';
import { hypothesesOf, stepsOf, suspectsOf } from '../../src/explain/hypotheses.js';
import { SOUND, withDraws } from '../../src/explain/variants.js';
import { analyse } from '../../src/analyse/analyse.js';
import { atTheEndOf, device, jumper, plainBell } from '../builder.js';

const bell = new House(analyse(plainBell()));
const suspects = suspectsOf(bell);
const ids = suspects.map(({ kind, on }) => `${kind} ${on}`);
const of = (kind: string): readonly string[] => suspects.filter((one) => one.kind === kind).map(({ on }) => on);

describe('of a plain bell', () => {
  test('each joint, conductor and pair is thought of once', () => {
    expect([...of('joint-loose')].sort()).toEqual(
      ['tx-to-hall.red', 'tx-to-hall.white', 'tx-to-porch.red', 'tx-to-porch.white'].flatMap((wire) => [
        `${wire}@from`,
        `${wire}@to`,
      ]),
    );
    expect(of('conductor-open')).toEqual([
      'tx-to-hall.red',
      'tx-to-hall.white',
      'tx-to-porch.red',
      'tx-to-porch.white',
    ]);
    expect(of('pair-shorted')).toEqual(['tx-to-hall.red-white', 'tx-to-porch.red-white']);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test('a coil that nothing is landed on is not suspected, nor a swap that changes nothing', () => {
    expect(of('coil-open')).toEqual(['hall-chime front']);
    // Both ends at the push: either way round it is the same.
    expect(of('ends-swapped')).not.toContain('tx-to-porch.red@to tx-to-porch.white@to');
    expect(of('ends-swapped')).toContain('tx-to-porch.red@from tx-to-porch.white@from');
    expect(of('bypass-left-in')).toEqual(['hall-chime.trans hall-chime.front']);
    for (const kind of ['diode-missing', 'load-dead', 'ring-setting', 'supply-wrong-tap']) expect(of(kind)).toEqual([]);
  });

  test.each([false, true])('priors are shares of what is not sound; recent work: %s', (recent) => {
    const hypotheses = hypothesesOf(suspects, recent);
    expect(hypotheses.reduce((sum, { prior }) => sum + prior, 0)).toBeCloseTo(0.75, 9);
    for (const { variants } of hypotheses)
      expect(variants.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  });

  test('after recent work swaps weigh more, contacts less', () => {
    const prior = (recent: boolean, kind: string): number =>
      hypothesesOf(suspects, recent).reduce((sum, one) => (one.kinds[0] === kind ? sum + one.prior : sum), 0);
    expect(prior(true, 'ends-swapped')).toBeGreaterThan(2 * prior(false, 'ends-swapped'));
    expect(prior(true, 'contact-corroded')).toBeLessThan(prior(false, 'contact-corroded'));
  });
});

test('steps of a severity cover its range evenly on a scale of factors', () => {
  const steps = stepsOf([5, 500], 4);
  expect(steps.map(({ value }) => value)).toEqual([
    expect.closeTo(5 * 10 ** 0.25, 9),
    expect.closeTo(5 * 10 ** 0.75, 9),
    expect.closeTo(5 * 10 ** 1.25, 9),
    expect.closeTo(5 * 10 ** 1.75, 9),
  ]);
  expect(steps[0]!.half).toBeCloseTo(Math.log(10) / 4, 9);
});

test('what is not known of a load is gone through in steps, and of a bell there is no such load', () => {
  expect(withDraws(bell, [SOUND])).toEqual([SOUND]);
  const doorbell = new House(
    analyse(atTheEndOf(9, device('porch-cam', 'video-doorbell'), ['porch-cam.a', 'porch-cam.b'])),
  );
  const steps = withDraws(doorbell, [SOUND]);
  expect(steps.map(({ draw }) => draw)).toEqual([1 / 6, 1 / 2, 5 / 6]);
  expect(steps.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
  expect(suspectsOf(doorbell).map(({ kind }) => kind)).toContain('load-dead');
});

test('a jumper past a coil is a bypass that may be missing, not a joint that may be loose', () => {
  const house = new House(
    analyse({ ...plainBell(), jumpers: [jumper('past', 'hall-chime.trans', 'hall-chime.front')] }),
  );
  const found = suspectsOf(house).map(({ kind, on }) => `${kind} ${on}`);
  expect(found).toContain('bypass-left-out jumper/past');
  expect(found).not.toContain('joint-loose jumper/past');
  expect(found).not.toContain('bypass-left-in hall-chime.trans hall-chime.front');
});
