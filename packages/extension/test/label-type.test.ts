import { describe, expect, test } from 'vitest';
import { formatText } from '@ohmstead/language/format';
import { parseWiring, readRecord } from '@ohmstead/language';
import { kindChoices, labelProblem, type PartKind, typeText } from '../src/label-type.js';

const figuresOf = (kind: PartKind) =>
  kind === 'contact' ? '30 V, 1 A' : kind === 'lock' ? '12 V DC, 0.5 A' : '16 V AC, 10 VA';

describe('a type from a label', () => {
  test.each(kindChoices.map(({ part }) => part))('of kind %s is read without a finding, with its figures', (kind) => {
    const text = typeText({ kind, words: 'Our Best "Part" 3', figures: figuresOf(kind), screws: ['+', '-'] });
    const read = readRecord(parseWiring('file:///w/our-parts.wiring', text));
    expect(read.findings.map(({ message }) => message)).toEqual([]);
    const type = read.installation.partTypes.get('our-best-part-3');
    expect(type?.terminals.map(({ name }) => name)).toEqual(['plus', 'minus']);
    expect(type?.elements).toHaveLength(1);
    const label = kind === 'supply' ? type?.facts.outputs[0] : type?.facts.rating;
    expect(label).toMatchObject(
      kind === 'contact' ? { amps: 1 } : kind === 'lock' ? { amps: 0.5 } : { voltAmperes: 10 },
    );
  });

  test('names each screw once, and leaves what is not said to be said', () => {
    const text = typeText({
      kind: 'chime',
      words: '16 V gong',
      figures: '16 V AC, 10 VA',
      screws: ['COM', 'F', 'F', '0'],
    });
    expect(text).toContain('device type our-part "16 V gong" {');
    expect(text).toContain('    terminal com "COM"\n    terminal f "F"\n    terminal f-3 "F"\n    terminal d "0"\n');
    expect(text).toContain('What lies between f-3, d and the rest');
  });

  test.each(kindChoices.map(({ part }) => part))('of kind %s is laid out as the formatter leaves it', (kind) => {
    const text = typeText({ kind, words: 'Part', figures: figuresOf(kind), screws: ['A', 'B', 'C'] });
    expect(formatText(text)).toBe(text);
  });

  test.each([
    ['16', 'chime', 'Begin with the volts'],
    ['10 VA, 16 V', 'chime', 'Begin with the volts'],
    ['16 V AC', 'chime', 'Then VA, W, A or mA'],
    ['16 V AC, 10', 'chime', '10 is no figure'],
    ['16 V AC, 10 VA, 60 Hz', 'chime', 'one more figure'],
    ['24 V DC, 60 W', 'supply', 'VA or A'],
    ['30 V, 10 VA', 'contact', 'A contact carries amps'],
  ] as const)('%s of a %s is told what is amiss', (figures, kind, words) => {
    expect(labelProblem(figures, kind)).toContain(words);
  });

  test.each([
    ['16 V AC, 10 VA', 'chime'],
    ['12-24 V DC, 7.5 W', 'electronics'],
    ['12..24VDC, 450 mA', 'electronics'],
    ['30 V, 1 A', 'contact'],
  ] as const)('%s of a %s is fine', (figures, kind) => {
    expect(labelProblem(figures, kind)).toBeUndefined();
  });
});
