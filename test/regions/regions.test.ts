// What a profile changes: mains, sizes that are offered, colours, words, the class of supplies. Mains: ANSI C84.1 (range A) and EN 50160;
// classes: National Electrical Code, chapter 9, tables 11(A) and 11(B), cell values from memory; bell transformers: EN 61558-2-8, scope.
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  type CheckedRecord,
  checkRecord,
  compareChecked,
  parseWiring,
  readRecord,
  underProfile,
} from '../../packages/language/src/index.js';
import { class2Row, classOf, inTradeWords, regionTable } from '../../packages/record/src/index.js';
import { budgetMarkdown, budgetText } from '../../packages/views/src/index.js';

const examples = new URL('../../examples/', import.meta.url);
const example = (name: string): string => readFileSync(new URL(name, examples), 'utf8');
const reading = (text: string) => readRecord(parseWiring('file:///records/bell.wiring', text));
const check = (text: string): CheckedRecord => checkRecord(reading(text));
const grave = ({ findings }: CheckedRecord) =>
  findings.filter(({ severity }) => severity === 'error' || severity === 'warning').map(({ code }) => code);

const bell = (profile: string, cable: string) => `wiring "Bell"
profile ${profile}
supply bell-tx : bell-transformer { output 8 V AC, 8 VA }
device gong : one-note-chime { rating 8 V AC, 8 VA }
device push : push-button
splice joint
run to-gong : ${cable}, 7 m {
    ${profile === 'north-america' ? 'red' : 'white'}    bell-tx.a  to  gong.trans
    ${profile === 'north-america' ? 'white' : 'brown'}  joint      to  gong.front
}
run to-push : ${cable}, 9 m {
    ${profile === 'north-america' ? 'red' : 'white'}    bell-tx.b  to  push.a
    ${profile === 'north-america' ? 'white' : 'brown'}  joint      to  push.b
}
`;

describe('the mains', () => {
  const most = (profile: string) => {
    const gong = check(bell(profile, '2 x 0.75 mm2'))
      .budget()
      .devices.find(({ name }) => name === 'gong');
    return gong!.elements[0]!;
  };
  test.each([
    ['north-america', 0.95, 1.05],
    ['europe', 0.94, 1.1],
    ['united-kingdom', 0.94, 1.1],
  ] as const)('%s: what a bell gets follows their tolerance', (profile, low, high) => {
    const { least, most: greatest } = most(profile);
    const nominal = most('north-america').solved.find(({ closed }) => closed.length === 1)!.volts!;
    // Warm and cold wire do the rest.
    expect(greatest!.volts / nominal).toBeGreaterThan(high);
    expect(greatest!.volts / nominal).toBeLessThan(high * 1.02);
    expect(most(profile).leastWorking!.volts / nominal).toBeLessThan(low);
    expect(most(profile).leastWorking!.volts / nominal).toBeGreaterThan(low * 0.97);
    expect(least).not.toBeNull();
  });

  test('their frequency is that of the supply', () => {
    const hertz = (profile: string) =>
      [...check(bell(profile, '18/2')).analysis.elements.values()].find(({ element }) => element.kind === 'winding')!
        .frequency;
    expect([hertz('north-america'), hertz('europe')]).toEqual([60, 50]);
  });
});

describe('colours', () => {
  const colours = (profile: string, cable: string) =>
    reading(`wiring "C"\nprofile ${profile}\nrun r : ${cable}, 1 m\n`).installation.runs[0]?.cable?.colours;
  test.each([
    ['north-america', '18/2', ['red', 'white']],
    ['north-america', '14/2 with ground', ['black', 'white', 'bare']],
    ['north-america', '14/3 with ground', ['black', 'white', 'red', 'bare']],
    ['europe', '2 x 0.5 mm2', ['white', 'brown']],
    ['europe', '3G1.5', ['brown', 'blue', 'green/yellow']],
    ['europe', '4G1.5', ['brown', 'black', 'grey', 'green/yellow']],
    ['united-kingdom', '4 x 0.22 mm2', ['white', 'brown', 'green', 'yellow']],
    ['united-kingdom', '18/2', ['red', 'white']],
  ])('%s: %s', (profile, cable, expected) => {
    expect(colours(profile, cable)).toEqual(expected);
  });
});

describe('words', () => {
  test.each([
    ['a splice takes two conductors', 'a joint takes two conductors'],
    ['A jumper from `jumper.a` to `splice`', 'A link from `jumper.a` to `splice`'],
    ['It is a ground, and ungrounded', 'It is an earth, and unearthed'],
    ['push buttons on the line side', 'bell pushes on the mains side'],
    ['Hot and neutral, from the panel', 'Live and neutral, from the consumer unit'],
    ['a coil gets hot', 'a coil gets hot'],
  ])('%s', (american, european) => {
    expect(inTradeWords('europe', american)).toBe(european);
    expect(inTradeWords('united-kingdom', american)).toBe(european);
    expect(inTradeWords('north-america', american)).toBe(american);
  });

  test('findings and fixes speak them', () => {
    const text = example('doorbell-first-try.wiring').replace('north-america', 'united-kingdom');
    const checked = check(text);
    const bypass = checked.findings.find(({ code }) => code === 'bypass-missing')!;
    expect(bypass.message).toContain('A link from');
    expect(bypass.message).not.toMatch(/jumper(?!`)/);
    expect(
      checked
        .fixesOf(bypass)
        .map(({ title }) => title)
        .join(),
    ).not.toContain('jumper');
  });

  test('the budget is headed by them', () => {
    const budget = check(example('bell-on-spur-uk.wiring')).budget();
    expect(budgetText(budget)).toContain('MAINS SIDE');
    expect(budgetMarkdown(budget)).toContain('## Mains side');
    expect(budgetText(check(example('bell-with-line-side.wiring')).budget())).toContain('LINE SIDE');
  });
});

describe('what is offered', () => {
  const offered = (profile: string, rating: string) => {
    const text = bell(profile, profile === 'north-america' ? '18/2' : '2 x 0.75 mm2')
      .replace('output 8 V AC, 8 VA', 'output 24 V AC, 8 VA')
      .replace('rating 8 V AC, 8 VA', `rating ${rating}`);
    const checked = check(text);
    const finding = checked.findings.find(({ code }) => code === 'device-overvoltage')!;
    return checked.fixesOf(finding).map(({ title }) => title);
  };
  test('is of volts that are sold in that part of the world', () => {
    expect(offered('north-america', '18 V AC, 8 VA')).toEqual(['Change `bell-tx` to 18 V 8 VA']);
    expect(offered('europe', '18 V AC, 8 VA')).toEqual(['Change `bell-tx` to 16 V 8 VA']);
    expect(offered('united-kingdom', '8 V AC, 8 VA')).toEqual(['Change `bell-tx` to 8 V 8 VA']);
  });

  test('every region has bell volts from 8 to 24 V, and VA in rising order', () => {
    for (const { standardVolts, standardVoltAmperes } of Object.values(regionTable)) {
      expect(standardVolts).toEqual(expect.arrayContaining([8, 12, 16, 24]));
      expect([...standardVoltAmperes].sort((one, other) => one - other)).toEqual(standardVoltAmperes);
    }
  });
});

describe('the class of a supply', () => {
  test.each([
    [16, 30, 'AC', 2],
    [16, 80, 'AC', 2],
    [16, 81, 'AC', undefined],
    [20, 100, 'AC', 2],
    [24, 40, 'AC', 2],
    [24, 100, 'AC', 2],
    [24, 101, 'AC', undefined],
    [48, 50, 'AC', 3],
    [48, 100, 'DC', 2],
    [12, 60, 'DC', 2],
    [12, 61, 'DC', undefined],
    [80, 100, 'DC', 3],
  ] as const)('%d V, %d VA, %s', (volts, va, system, expected) => {
    expect(classOf(volts, va, system, 'inherently')).toBe(expected);
  });

  test('a supply that does not limit itself asks for an overcurrent device', () => {
    expect(class2Row(16, 'AC', 'by-overcurrent-device')?.overcurrent?.(16)).toBe(5);
    expect(class2Row(25, 'AC', 'by-overcurrent-device')?.overcurrent?.(25)).toBe(4);
    expect(class2Row(40, 'AC', 'by-overcurrent-device')).toBeUndefined();
    expect(classOf(140, 100, 'AC', 'by-overcurrent-device')).toBe(3);
  });

  test('is judged by the open volts where they are known, and elsewhere by what a bell transformer may be', () => {
    const codes = (profile: string, output: string) =>
      grave(
        check(
          bell(profile, '18/2')
            .replace('output 8 V AC, 8 VA', output)
            .replaceAll(/rating 8 V AC, 8 VA/g, 'rating 24 V AC, 8 VA')
            .replaceAll('brown', 'white')
            .replace(/white( +)bell/g, 'red$1bell'),
        ),
      );
    expect(codes('north-america', 'output 24 V AC, 40 VA')).not.toContain('class2-exceeded');
    expect(codes('north-america', 'output 24 V AC, 40 VA, no-load 30.5 V')).toContain('class2-exceeded');
    expect(codes('europe', 'output 24 V AC, 100 VA, no-load 26 V')).not.toContain('class2-exceeded');
    expect(codes('europe', 'output 24 V AC, 120 VA, no-load 26 V')).toContain('class2-exceeded');
    expect(codes('europe', 'output 24 V AC, 10 VA, no-load 34 V')).toContain('class2-exceeded');
  });
});

describe('the same record under another profile', () => {
  const original = reading(example('bell-with-line-side.wiring'));

  test('keeps what it says, and is judged by other limits', () => {
    const british = checkRecord(underProfile(original, 'united-kingdom'));
    expect(british.analysis.installation.runs).toEqual(original.installation.runs);
    expect(grave(british)).toEqual(['separation']);
    expect(british.findings[0]?.message).toContain('25 mm');
    expect(british.budget().branches?.[0]?.volts).toBe(230);
  });

  test('is compared with itself', () => {
    const comparison = compareChecked(checkRecord(original), checkRecord(underProfile(original, 'europe')));
    expect(comparison.profile).toEqual({ before: 'north-america', after: 'europe' });
    expect(comparison.findings.new.map(({ code }) => code)).toContain('separation');
    expect(comparison.parts).toEqual([]);
    expect(comparison.conductors).toEqual([]);
  });

  test('a transformer for other mains is told of', () => {
    const text = `${bell('north-america', '18/2')}supply type old { terminal l hot, n neutral, a, b
    primary l to n { 120 V AC }
    winding a to b { 8 V AC, 8 VA }
}
`.replace(': bell-transformer { output 8 V AC, 8 VA }', ': old');
    expect(grave(check(text))).not.toContain('mains-mismatch');
    expect(grave(checkRecord(underProfile(reading(text), 'europe')))).toContain('mains-mismatch');
  });
});

test('the examples of every region raise no error and no warning', () => {
  const names = readdirSync(examples).filter((name) => /^bell-(with|on).*\.wiring$/.test(name));
  expect(names).toHaveLength(3);
  const profiles = names.map((name) => {
    const checked = check(example(name));
    expect(grave(checked), name).toEqual([]);
    return checked.analysis.installation.profile;
  });
  expect(profiles.sort()).toEqual(['europe', 'north-america', 'united-kingdom']);
});
