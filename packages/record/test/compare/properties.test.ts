// What must hold of any two records that are compared.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { analyse, type Comparison, compareRecords, type Installation, runChecks, workOrders } from '../../src/index.js';
import { anyInstallation, renamed, turned } from './random-records.js';
import { wiringOf, workedOn } from './work.js';

function compared(before: Installation, after: Installation): Comparison {
  const side = (record: Installation) => {
    const analysis = analyse(record);
    const findings = runChecks(analysis).map(({ code, severity, message, parts, accepted }) => ({
      code,
      severity,
      message,
      parts,
      accepted: accepted !== undefined,
    }));
    return { analysis, findings };
  };
  return compareRecords(side(before), side(after));
}

const differences = ({ parts, runs, conductors, jumpers, leads, places, accepts }: Comparison) => ({
  parts,
  runs,
  conductors,
  jumpers,
  leads,
  places,
  accepts,
});

/** Every pair the other way round, and every change the opposite one. */
function mirrored(value: unknown): unknown {
  const opposite: Readonly<Record<string, string>> = {
    added: 'removed',
    removed: 'added',
    landed: 'lifted',
    lifted: 'landed',
    gone: 'new',
    new: 'gone',
    before: 'after',
    after: 'before',
  };
  if (Array.isArray(value)) return value.map(mirrored);
  if (typeof value === 'string') return opposite[value] ?? value;
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [opposite[key] ?? key, mirrored(one)]));
}

const sorted = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(sorted).sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, one]) => [key, sorted(one)]),
  );
};

describe('any record', () => {
  test('is the same as itself, in whatever order and from whichever end it is told', () => {
    fc.assert(
      fc.property(anyInstallation, (record) => {
        for (const other of [record, turned(record)]) {
          const found = compared(record, other);
          expect(differences(found)).toEqual(differences(compared(record, record)));
          expect(found).toMatchObject({ same: true, figures: [], findings: { gone: [], new: [] } });
        }
      }),
      { numRuns: 15 },
    );
  });

  test('with every name another is renamed and nothing else', () => {
    fc.assert(
      fc.property(anyInstallation, (record) => {
        const found = compared(
          record,
          renamed(record, (name) => `${name}-now`),
        );
        const changes = [...found.parts, ...found.runs].flatMap((one) => one.changes);
        expect(new Set(changes)).toEqual(new Set(['renamed']));
        expect(found.parts).toHaveLength(record.supplies.length + record.devices.length + record.splices.length);
        expect(found.conductors).toEqual([]);
        expect(found.jumpers.every(({ change }) => change === 'renamed')).toBe(true);
        expect(found.figures).toEqual([]);
        expect(found.findings).toMatchObject({ gone: [], new: [] });
      }),
      { numRuns: 15 },
    );
  });
});

describe('any two records', () => {
  test('compared the other way round say the same mirrored', () => {
    fc.assert(
      fc.property(anyInstallation, anyInstallation, (before, after) => {
        expect(sorted(mirrored(compared(before, after)))).toEqual(sorted(compared(after, before)));
      }),
      { numRuns: 15 },
    );
  });

  test('have a work order between them that makes the new one of the old one', () => {
    fc.assert(
      fc.property(anyInstallation, anyInstallation, (before, after) => {
        const { there, back } = workOrders(analyse(before), analyse(after));
        expect(wiringOf(workedOn(before, after, there.steps))).toEqual(wiringOf(after));
        expect(wiringOf(workedOn(after, before, back.steps))).toEqual(wiringOf(before));
      }),
      { numRuns: 60 },
    );
  });

  test('that are one ask for no work', () => {
    fc.assert(
      fc.property(anyInstallation, (record) => {
        expect(workOrders(analyse(record), analyse(turned(record))).there).toMatchObject({ steps: [], expected: [] });
      }),
      { numRuns: 20 },
    );
  });
});
