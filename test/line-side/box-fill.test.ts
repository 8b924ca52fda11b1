// Box fill against published sums. The rules are those of the National Electrical Code, 314.16(B); the examples are from
// "Code Calculations" (EC&M), "Wiring - Receptacle wires" (a question-and-answer page), "Box fill calculations" (a forum), and
// "How many wires are in a 22 cubic inch box"; the volumes of boxes from table 314.16(A) as "Electrical Boxes Sizing Guide" prints it.
import { describe, expect, test } from 'vitest';
import { checkRecord, parseWiring, readRecord } from '../../packages/language/src/index.js';
import { boxAllowances, type BoxContents, boxFill } from '../../packages/record/src/index.js';

const awg = (gauge: number) => ({ kind: 'awg', awg: gauge }) as const;
const some = (count: number, gauge: number) => Array.from({ length: count }, () => awg(gauge));

function filled(contents: Partial<BoxContents>): number | undefined {
  return boxFill({ conductors: [], grounds: [], yokes: [], clamps: false, ...contents })?.cubicInches;
}

describe('published sums', () => {
  test.each<[what: string, contents: Partial<BoxContents>, cubicInches: number]>([
    ['9 x 12 AWG, no devices: the 21 in3 box takes them (EC&M, example 1)', { conductors: some(9, 12) }, 20.25],
    ['7 x 14 AWG in 15.5 in3 (EC&M, example 2)', { conductors: some(7, 14) }, 14],
    [
      '6 x 12, 6 x 14, grounds of 12 and a receptacle on 12',
      { conductors: [...some(6, 12), ...some(6, 14)], grounds: some(4, 12), yokes: some(1, 12) },
      32.25,
    ],
    ['the same without the receptacle', { conductors: [...some(6, 12), ...some(6, 14)], grounds: some(4, 12) }, 27.75],
    [
      '3 x 14/2 and a receptacle, no clamps: 18 in3 just fits',
      { conductors: some(6, 14), grounds: some(3, 14), yokes: some(1, 14) },
      18,
    ],
    [
      '2 x 12/2, clamps and a receptacle',
      { conductors: some(4, 12), grounds: some(2, 12), yokes: some(1, 12), clamps: true },
      18,
    ],
    [
      '6 x 14, one switch and grounds in 22 in3',
      { conductors: some(6, 14), grounds: some(3, 14), yokes: some(1, 14) },
      18,
    ],
    [
      // Worked out here from the rules: no published sum.
      'a bell transformer on 15.5 in3: 14/2 in, 14/2 out, clamp, two leads and a ground lead',
      { conductors: [...some(4, 14), ...some(2, 18)], grounds: [...some(2, 14), ...some(1, 18)], clamps: true },
      15,
    ],
  ])('%s', (_what, contents, cubicInches) => {
    expect(filled(contents)).toBeCloseTo(cubicInches, 9);
  });

  test.each([
    [12.5, [8, 7, 6, 5, 5]],
    [15.5, [10, 8, 7, 6, 6]],
    [18.0, [12, 10, 9, 8, 7, 6, 3]],
    [21.0, [14, 12, 10, 9, 8, 7, 4]],
    [21.5, [14, 12, 10, 9, 8, 7, 4]],
    [30.3, [20, 17, 15, 13, 12, 10, 6]],
    [42.0, [28, 24, 21, 18, 16, 14, 8]],
    [10.5, [7, 6, 5, 4, 4, 3, 2]],
  ])('a box of %d in3 takes as many conductors as the table prints', (volume, most) => {
    for (const [index, count] of most.entries()) {
      const { awg: gauge } = boxAllowances[index]!;
      expect(filled({ conductors: some(count, gauge) })).toBeLessThanOrEqual(volume);
      expect(filled({ conductors: some(count + 1, gauge) })).toBeGreaterThan(volume);
    }
  });

  test('grounds beyond four count a quarter each (edition of 2020)', () => {
    expect(filled({ grounds: some(4, 12) })).toBeCloseTo(2.25, 9);
    expect(filled({ grounds: some(5, 12) })).toBeCloseTo(2.25 * 1.25, 9);
    expect(filled({ grounds: [...some(1, 12), ...some(3, 14)] })).toBeCloseTo(2.25, 9);
  });

  test('a device counts by the largest conductor connected to it, not by the largest in the box', () => {
    expect(filled({ conductors: [...some(2, 12), ...some(2, 14)], yokes: some(1, 14) })).toBeCloseTo(4.5 + 4 + 4, 9);
  });

  test('nothing is said of conductors thicker than the table', () => {
    expect(filled({ conductors: some(1, 4) })).toBeUndefined();
  });
});

describe('counted from a record', () => {
  function sumOf(volume: string, facts: string, statements: string): string | undefined {
    const text = `wiring "Box"
place den
supply c : branch-circuit in den { breaker 15 A }
box b in den { volume ${volume}${facts} }
${statements}`;
    const { findings } = checkRecord(readRecord(parseWiring('file:///w/box.wiring', text)));
    const syntax = findings.filter(({ code }) => /^(syntax|unknown|unit|value)/.test(code));
    expect(syntax).toEqual([]);
    return findings.find(({ code }) => code === 'box-overfilled')?.message;
  }
  const cable = (name: string, printed: string) => `run ${name} : ${printed} from den to b\n`;

  test('cables count all their conductors, spare ones too', () => {
    const three = cable('r1', '12/3') + cable('r2', '12/3') + cable('r3', '12/3');
    expect(sumOf('21 in3', '', three)).toBeUndefined();
    expect(sumOf('20 in3', '', three)).toContain('needs 20.25: conductors 9 x 12 AWG (20.25)');
  });

  test('3 x 14/2 with ground, a receptacle and no clamps just fit 18 in3', () => {
    const text = `${cable('r1', '14/2 with ground')}${cable('r2', '14/2 with ground')}run r3 : 14/2 with ground from den to b {
    black  c.hot      to  o.hot
    white  c.neutral  to  o.neutral
    bare   c.ground   to  o.ground
}
device o : receptacle in b
`;
    expect(sumOf('18 in3', '', text)).toBeUndefined();
    expect(sumOf('17.9 in3', '', text)).toContain(
      'needs 18: conductors 6 x 14 AWG (12) + grounds 1 x 14 AWG (2) + devices 2 x 14 AWG (4)',
    );
    expect(sumOf('18 in3', ', clamps', text)).toContain('clamps 1 x 14 AWG (2)');
  });

  test('cm3 are converted, and what lies wholly inside counts for nothing', () => {
    const inside = 'splice s in b\nsplice t in b\nrun inner : 14/2 from b to b {\n    red s to t\n}\n';
    expect(sumOf('66 cm3', '', cable('r1', '14/2'))).toBeUndefined();
    expect(sumOf('65 cm3', '', cable('r1', '14/2') + inside)).toContain('has 3.97 in3 and needs 4');
  });
});
