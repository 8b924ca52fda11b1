// A work order speaks as the trade does where the record is; names of the record are left alone.
import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/index.js';
import { workOrder } from '../../src/work-order/index.js';
import { anyInstallation } from '../compare/random-records.js';
import fc from 'fast-check';

describe.each([
  ['north-america', 'line side', /\b(earth terminal|mains side|link)\b/],
  ['united-kingdom', 'mains side', /\b(line side|jumper|splice)\b/],
] as const)('%s', (profile, _, others) => {
  test('steps', () => {
    fc.assert(
      fc.property(anyInstallation, anyInstallation, (one, other) => {
        const [before, after] = [one, other].map((each) => analyse({ ...each, profile }));
        for (const { words } of workOrder(before!, after!).steps) {
          expect(words.replace(/`[^`]*`/g, '')).not.toMatch(others);
        }
      }),
      { numRuns: 30 },
    );
  });
});
