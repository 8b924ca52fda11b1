import { at } from '@ohmstead/record';
import { describe, expect, it } from 'vitest';
import { checkRecord } from '../../src/pipeline.js';
import { readRecord } from '../../src/read.js';
import { parseWiring } from '../../src/reading/document.js';

function check(facts: string, type = 'video-doorbell', own = '') {
  const text = `${own}supply bell-tx : bell-transformer {
    output 16 V AC, 10 VA
    no-load 19.8 V
}
device front : ${type} {
${facts}
}
run to-front : 18/2, 20 m {
    red    bell-tx.a to front.${type === 'two-note-chime' ? 'trans' : 'a'}
    white  bell-tx.b to front.${type === 'two-note-chime' ? 'front' : 'b'}
}
`;
  const checked = checkRecord(readRecord(parseWiring('file:///w/a.wiring', text)));
  const part = checked.analysis.parts.get('front');
  return {
    analysis: checked.analysis,
    reading: checked.reading,
    findings: checked.findings,
    element: part?.elements.find(({ element }) => element.kind === 'load' || element.kind === 'coil'),
    assumed: checked.analysis.assumptions
      .filter((one) => one.part === 'front' && one.what !== 'ring')
      .map(({ what }) => what),
    said: checked.reading.findings.map(({ message }) => message),
  };
}

describe("a device's own figures", () => {
  it('come before those of the library, which are then no longer assumed', () => {
    const typical = check('rating 16..24 V AC');
    expect(typical.element?.draws).toEqual({ unit: 'VA', idle: 3, peak: 8 });
    expect(new Set(typical.assumed)).toEqual(new Set(['draws', 'peaks', 'power-factor', 'stays-on']));
    const own = check('draws 3.6 W, peaks 9 W\nstays-on from 12 V\npower-factor 0.6');
    expect(own.said).toEqual([]);
    expect(own.element?.draws?.idle).toBeCloseTo(6, 12);
    expect(own.element?.draws?.peak).toBeCloseTo(15, 12);
    expect(own.element).toMatchObject({ staysOnFrom: 12, powerFactor: 0.6 });
    expect(own.assumed).toEqual([]);
  });

  it('leave the others assumed', () => {
    expect(new Set(check('draws 4 W').assumed)).toEqual(new Set(['peaks', 'power-factor', 'stays-on']));
    expect(new Set(check('draws 4 VA, peaks 9 VA').assumed)).toEqual(new Set(['stays-on']));
  });

  it('are no longer asked for', () => {
    const asks = (facts: string) =>
      check(facts)
        .findings.filter(({ code, parts }) => code === 'assumed-rating' && parts.includes('front'))
        .map(({ message }) => message);
    expect(asks('ring none, stays-on from 15 V')).toEqual([
      expect.stringMatching(/^Read the peak draw of `front` off its label or data sheet/),
    ]);
    expect(asks('ring none, stays-on from 15 V, peaks 8 W, draws 3 W, power-factor 1')).toEqual([]);
  });

  it('change what flows', () => {
    const amps = (facts: string) => {
      const { analysis, element } = check(facts);
      const { amps: flowing } = analysis.circuits[0]!.at('nominal', [], 'idle')!.solution.element(element!.id)!;
      return Math.hypot(flowing!.re, flowing!.im);
    };
    expect(amps('draws 6 W')).toBeGreaterThan(1.9 * amps('draws 3 W'));
  });

  it('of coils count for all of them', () => {
    const { analysis, said, assumed } = check(
      'power-factor 0.5, dc 4 ohm, rings from 80 %, hums off',
      'two-note-chime',
    );
    expect(said).toEqual([]);
    expect(assumed).not.toContain('power-factor');
    for (const coil of analysis.parts.get('front')!.elements) {
      // 16 V and 10 VA: 25.6 ohm.
      expect(coil.ohms).toBeCloseTo(12.8, 12);
      expect(coil.ringsFromVolts).toBeCloseTo(12.8, 12);
      expect(coil.humsFromAmps).toBeUndefined();
      expect(coil.element).toMatchObject({ kind: 'coil', dcOhms: 4 });
    }
  });

  it('come before a rating that the type follows', () => {
    const own = 'device type opener {\n    terminal a, b\n    rating 16 V AC, 12 VA\n    load a to b { as rated }\n}\n';
    expect(check('', 'opener', own).element?.draws).toMatchObject({ idle: 12 });
    expect(check('draws 5 VA', 'opener', own).element?.draws).toMatchObject({ idle: 5 });
  });

  it('have places of their own', () => {
    const { reading } = check('draws 4 W\n    stays-on from 9 V');
    expect(reading.sourceMap.locate(at.fact('front', 'draws'))?.range.start.line).toBe(5);
    expect(reading.sourceMap.locate(at.fact('front', 'stays-on'))?.range.start.line).toBe(6);
  });

  it.each([
    ['draws 4 W', 'two-note-chime', 'has no load; what its label says is its `rating`'],
    ['rings from 70 %', 'video-doorbell', 'a `video-doorbell` has no coil'],
    ['power-factor 0.6', 'push-button', 'a `push-button` has no load or coil'],
    ['draws 4 W, draws 5 W', 'video-doorbell', '`draws` is already stated for `front`'],
    ['draws 4 V', 'video-doorbell', 'a load draws takes `W`'],
    ['stays-on 4 V', 'video-doorbell', '`from` belongs here'],
    ['power-factor 60 %', 'video-doorbell', 'takes `0.6`'],
    ['peaks 3..9 W', 'video-doorbell', 'one figure, not a range'],
  ])('%s on a %s', (facts, type, sentence) => {
    expect(check(facts, type).said).toEqual([expect.stringContaining(sentence)]);
  });

  it('belong in the braces of a load where a type states them', () => {
    const own = 'device type opener {\n    terminal a, b\n    draws 4 W\n    load a to b\n}\n';
    expect(check('', 'opener', own).said).toEqual([expect.stringContaining('`load a to b { draws 4 W }`')]);
  });

  it('belong to parts that have a load', () => {
    const text = 'supply tx : bell-transformer {\n    draws 4 W\n}\n';
    const { findings } = readRecord(parseWiring('file:///w/a.wiring', text));
    expect(findings.map(({ message }) => message)).toEqual([
      '`draws` is not a fact of `tx`: a `bell-transformer` has no load; what its label says is its `output`.',
    ]);
  });
});
