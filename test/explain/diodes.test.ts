// Faults of diodes, and beside diodes, in hidden houses whose waves are cut: found, and never excluded.
import { describe, expect, test } from 'vitest';
import { explain, type Reading, type Sign } from '../../packages/record/src/index.js';
import { drawsFrom } from './draws.js';
import { HiddenHouse } from './hidden-house.js';
import { hunt, placeOf, withReadings } from './hunt.js';
import { analysisOf } from './records.js';
import { trueFaults } from './true-faults.js';

const CHIME = analysisOf(`wiring "An electronic chime with its diode"
profile north-america
place basement
place hall
place porch { outdoor }
supply bell-tx : bell-transformer in basement {
    output 16 V AC, 20 VA
}
device hall-chime : electronic-chime in hall
device porch-button : push-button in porch
device porch-diode : diode-kit in porch {
    lands a on porch-button.a
    lands b on porch-button.b
}
splice joist-joint in basement
run tx-to-hall : 18/2 from basement to hall, 9 m {
    red    bell-tx.a    to  hall-chime.trans
    white  joist-joint  to  hall-chime.front
}
run tx-to-porch : 18/2 from basement to porch, 7 m {
    red    bell-tx.b    to  porch-button.a
    white  joist-joint  to  porch-button.b
}`);

const LOCK = analysisOf(`wiring "A buzzer behind a diode"
profile north-america
place basement
place porch { outdoor }
supply power : led-driver in basement
device gate-strip : led-strip in porch
device guard : diode-kit in porch
run out : 18/2 from basement to porch, 6 m {
    red    power.plus   to  guard.a
    white  power.minus  to  gate-strip.minus
}
jumper guarded : guard.b to gate-strip.plus`);

/** Half waves keep a chime awake and silent; it plays when it gets whole ones. */
class HouseWithDiodes extends HiddenHouse {
  takeOut(part: string): void {
    for (const [id, { kind }] of this.elements)
      if (kind === 'diode' && id.startsWith(`part/${part}/`)) this.elements.delete(id);
  }

  turn(part: string): void {
    for (const [id, element] of this.elements) {
      if (element.kind !== 'diode' || !id.startsWith(`part/${part}/`)) continue;
      this.elements.set(id, { ...element, a: element.b, b: element.a });
    }
  }

  override sign(part: string, pressed: readonly string[], bridged: readonly string[]): { shows: Sign; note?: string } {
    const told = super.sign(part, pressed, bridged);
    const own = this.sounders.filter((one) => one.part === part);
    if (own.length === 0 || told.shows !== 'rings') return told;
    const isActed = pressed.length + bridged.length > 0;
    const rises = own.some(({ id }) => this.across(id, pressed, bridged) > 1.2 * this.across(id, [], []));
    return isActed && rises ? told : { shows: 'silent' };
  }
}

describe('an electronic chime with a diode across its push', () => {
  test('is explained where it is sound', () => {
    const { last, wasExcluded } = hunt(CHIME, new HouseWithDiodes(CHIME, drawsFrom(5)), undefined);
    expect(wasExcluded).toBe(false);
    expect(last.notes).toEqual([]);
    expect(last.healthy).toBe(true);
  });

  test('a diode that is missing is found first', () => {
    const house = new HouseWithDiodes(CHIME, drawsFrom(6));
    house.takeOut('porch-diode');
    const { place, excludedBy } = hunt(CHIME, house, 'diode-missing porch-diode');
    expect(excludedBy).toBeUndefined();
    expect(place).toBe(1);
  });

  test.each([
    'contact-stuck-open porch-button',
    'conductor-open tx-to-porch.red',
    'supply-dead bell-tx',
    'pair-shorted tx-to-porch.red-white',
  ])('%s is found among the first three', (id) => {
    const draws = drawsFrom(9);
    const house = new HouseWithDiodes(CHIME, draws);
    trueFaults(CHIME)
      .find((one) => one.id === id)!
      .put(house, draws);
    const { place, excludedBy } = hunt(CHIME, house, id);
    expect(excludedBy).toBeUndefined();
    expect(place).toBeLessThanOrEqual(3);
  });

  test('a diode the wrong way round shows on the DC setting alone', () => {
    const across = (volts: number, system?: 'DC'): Reading => ({
      state: { kind: 'live', pressed: [] },
      of: {
        kind: 'volts',
        between: [at('hall-chime', 'trans'), at('hall-chime', 'front')],
        volts,
        ...(system === undefined ? {} : { system }),
      },
    });
    const found = (...readings: Reading[]) => explain(withReadings(CHIME, readings), { mostFaults: 400 });
    // The mean of a half wave of 20 V, less what the diode takes, is some 8 V: from `trans` to `front` it is one way or the other.
    const [one, other] = [8, -8].map((volts) => found(across(13), across(volts, 'DC')));
    const isHealthy = [one!.healthy, other!.healthy];
    expect([...isHealthy].sort()).toEqual([false, true]);
    const reversed = isHealthy[0] ? other! : one!;
    expect(placeOf(reversed, 'diode-reversed porch-diode')).toBe(1);
  });
});

describe('a lamp behind a diode that guards it', () => {
  test('is dark with the diode the wrong way round, and volts stand before the diode alone', () => {
    const house = new HouseWithDiodes(LOCK, drawsFrom(3));
    house.turn('guard');
    const asked = (part: string, terminal: string) =>
      house.answer({
        state: { kind: 'live', pressed: [] },
        of: { kind: 'volts', between: [at(part, terminal), at('gate-strip', 'minus')] },
      });
    const readings = [asked('power', 'plus'), asked('guard', 'a'), asked('guard', 'b'), asked('gate-strip', 'plus')];
    const told = explain(withReadings(LOCK, readings), { mostFaults: 400 });
    expect(told.excluded.map(({ id }) => id)).not.toContain('diode-reversed guard');
    expect(placeOf(told, 'diode-reversed guard')).toBeLessThanOrEqual(3);
    expect(told.faults.map(({ id }) => id)).toContain('diode-missing guard');
    expect(told.healthy).toBe(false);
  });
});

const at = (part: string, terminal: string) => ({ kind: 'end', end: { part, terminal } }) as const;
