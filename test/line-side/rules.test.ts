// The line side's rules on whole records. Sources are named in packages/record/src/regions/line-limits.ts; published figures again here.
import { describe, expect, test } from 'vitest';
import { recordChecks } from '../../packages/record/src/checks/registry.js';
import { breakerRow, lineLimitTable } from '../../packages/record/src/index.js';
import { check, edited, found, house } from './house.js';

test('the house has no finding, and its transformer is on the breaker', () => {
  expect(found(house)).toEqual([]);
  const [branch] = check(house).budget().branches ?? [];
  // 10 VA at 120 V.
  expect(branch).toMatchObject({ name: 'basement-circuit', breakerAmps: 15, existingAmps: 6, volts: 120 });
  expect(branch?.feeds).toEqual([{ name: 'bell-tx', va: 10, amps: 10 / 120 }]);
});

describe('a branch circuit', () => {
  // "Basic NEC code rules and design practice": a continuous load may be 80 % of the breaker.
  test.each([
    [15, 12],
    [20, 16],
    [25, 20],
    [30, 24],
    [40, 32],
    [50, 40],
  ])('of %d A has room for %d A that is continuous', (breaker, most) => {
    const loaded = (amps: number) =>
      edited(['breaker 15 A', `breaker ${breaker} A`], ['existing load 6 A', `existing load ${amps} A continuous`])
        .replaceAll('14/2', '8/2')
        .replace(
          /supply bell-tx[^}]*}/,
          'supply bell-tx : plug-in-transformer { output 16 V AC, 10 VA, no-load 19.8 V }',
        );
    expect(found(loaded(most))).not.toContain('error branch-overloaded');
    expect(found(loaded(most + 0.01))).toContain('error branch-overloaded');
  });

  test('counts loads as they are under the other profiles', () => {
    const text = edited(['existing load 6 A', 'existing load 14.8 A continuous'], ['north-america', 'europe']);
    expect(found(text)).not.toContain('error branch-overloaded');
    expect(check(text).budget().branches?.[0]).toMatchObject({ continuousFactor: 1, volts: 230 });
  });

  test('counts several transformers, and the windings of one together', () => {
    const feeds = check(
      edited([
        'device hall-chime',
        `supply gate-tx : tri-volt-transformer in basement {
    lands line on hots
    lands neutral on neutrals
    lands ground on grounds
}
device hall-chime`,
      ]),
    ).budget().branches?.[0]?.feeds;
    expect(feeds?.map(({ name, va }) => [name, va])).toEqual([
      ['bell-tx', 10],
      ['gate-tx', 20],
    ]);
  });

  test('says what it takes where it knows of no breaker', () => {
    const [branch] = check(edited(['    breaker 15 A\n', ''])).budget().branches ?? [];
    expect(branch).toMatchObject({ breakerAmps: null, share: null });
  });
});

describe('a breaker and its wire', () => {
  // National Electrical Code, 240.4(D): 14, 12 and 10 AWG as a question-and-answer page quotes it; 18 and 16 AWG from memory.
  test.each([
    [18, 7],
    [16, 10],
    [14, 15],
    [12, 20],
    [10, 30],
  ])('%d AWG takes %d A', (gauge, amps) => {
    const row = breakerRow('north-america', { kind: 'awg', awg: gauge }, 'copper', false);
    expect(row?.amps).toBe(amps);
  });

  test('copper-clad aluminium takes less (240.4(D): 12 AWG 15 A, 10 AWG 25 A)', () => {
    const amps = (gauge: number) =>
      breakerRow('north-america', { kind: 'awg', awg: gauge }, 'copper-clad-aluminium', false)?.amps;
    expect([amps(12), amps(10)]).toEqual([15, 25]);
  });

  test('nothing is said of thicker wire than the table has', () => {
    expect(breakerRow('north-america', { kind: 'awg', awg: 6 }, 'copper', false)).toBeUndefined();
  });

  test("a transformer's own leads are exempt, and the cable beyond a fuse is held to the fuse", () => {
    const spur = (fuse: string) => `wiring "Spur"
profile united-kingdom
supply lights : branch-circuit { breaker 6 A }
device spur : fused-connection-unit { rating ${fuse} }
supply bell-tx : cased-bell-transformer
run to-spur : 3G1.5 {
    brown         lights.hot      to  spur.line
    blue          lights.neutral  to  spur.neutral
    green/yellow  lights.ground   to  spur.ground
}
run to-tx : 3G0.5 {
    brown         spur.load         to  bell-tx.line
    blue          spur.neutral-out  to  bell-tx.neutral
    green/yellow  spare
}
`;
    expect(found(spur('3 A'))).not.toContain('error breaker-exceeds-wire');
    expect(found(spur('5 A'))).toContain('error breaker-exceeds-wire');
  });

  test('2.5 mm2 in a British ring is held to 32 A, on a spur of one cable to 20 A (common practice, no source)', () => {
    const ring = (back: string) => `wiring "Ring"
profile united-kingdom
supply sockets : branch-circuit { breaker 32 A }
device socket-1 : receptacle
run out : 3G2.5 {
    brown         sockets.hot      to  socket-1.hot
    blue          sockets.neutral  to  socket-1.neutral
    green/yellow  sockets.ground   to  socket-1.ground
}
${back}`;
    const closed = 'run back : 3G2.5 {\n    brown  socket-1.hot  to  sockets.hot\n}\n';
    expect(found(ring(''))).toContain('error breaker-exceeds-wire');
    expect(found(ring(closed))).not.toContain('error breaker-exceeds-wire');
  });
});

describe('separation', () => {
  const beside = (cable: string, distance: string, more = '') =>
    edited(
      ['run tx-to-hall : 18/2, 9 m {', `run tx-to-hall : 18/2, 9 m {\n    beside feed, ${distance}${more}`],
      [
        'ground grounds to',
        `run feed : ${cable} {\n    ${cable.startsWith('14/2') ? 'black' : 'red'}  hots  to  unknown\n}\n\nground grounds to`,
      ],
    );
  // National Electrical Code, 725.136(I) and (I)(1), as a thread quotes it: 2 in, and none beside NM cable.
  test.each([
    ['single conductors at 1 in', beside('1 x 14 AWG', '1 in'), true],
    ['single conductors at 2 in', beside('1 x 14 AWG', '2 in'), false],
    ['several single conductors at 1 in', beside('2 x 14 AWG listed THHN', '1 in'), true],
    ['sheathed cable that it touches', beside('14/2 with ground', '1/4 in'), false],
    ['single conductors, the low-voltage cable in a raceway', beside('1 x 14 AWG', '1 in', '\n    raceway'), false],
  ])('%s', (_what, text, told) => {
    expect(found(text).includes('warning separation')).toBe(told);
  });

  test('in one box, without and with a barrier', () => {
    const shared = edited(['splice joint\n', 'splice joint in bell-box\n']);
    expect(found(shared)).toContain('warning separation');
    expect(found(shared.replace('metal, clamps', 'metal, clamps, barrier'))).not.toContain('warning separation');
  });

  test('a single cable that is there only for the transformer in the box is the exception of 725.136(D)(1)', () => {
    const own = edited(
      ['splice joint\n', 'splice joint in bell-box\n'],
      ['lead-wire-transformer in basement', 'lead-wire-transformer in bell-box'],
      [/run onward[^}]*}\n/.exec(house)![0], ''],
    );
    expect(found(own)).not.toContain('warning separation');
    expect(found(own.replace('north-america', 'europe'))).toContain('warning separation');
  });
});

describe('hot, neutral and ground', () => {
  test.each<[what: string, edits: readonly (readonly [string, string])[], codes: string[]]>([
    ['a neutral left off', [['    lands neutral on neutrals\n', '']], ['error neutral-missing']],
    ['a ground left off', [['    lands ground on grounds\n', '']], ['error ground-missing']],
    [
      'a box of plastic needs no bond',
      [
        ['ground grounds to bell-box\n', ''],
        ['metal, ', ''],
      ],
      [],
    ],
    ['a metal box unbonded', [['ground grounds to bell-box\n', '']], ['error ground-missing']],
    ['the box bonded by another lead', [['ground grounds to', 'earth bell-tx.ground to']], []],
    [
      'hot and neutral exchanged at the panel',
      [
        ['black  basement-circuit.hot      to  hots', 'black  basement-circuit.hot      to  neutrals'],
        ['white  basement-circuit.neutral  to  neutrals', 'white  basement-circuit.neutral  to  hots'],
      ],
      ['error hot-neutral-swapped'],
    ],
    ['hot on ground', [['lands ground on grounds', 'lands ground on hots']], ['error line-shorted']],
    ['ground on neutral', [['lands ground on grounds', 'lands ground on neutrals']], ['error neutral-grounded']],
    [
      'a bell wire in the hots',
      [['red    bell-tx.b  to  porch-button.a', 'red    hots  to  porch-button.a']],
      ['error line-meets-low-voltage'],
    ],
    [
      'both in one cable',
      [['bare   grounds   to  unknown', 'bare   bell-tx.a   to  unknown']],
      ['error line-meets-low-voltage'],
    ],
  ])('%s', (_what, edits, codes) => {
    const grave = found(edited(...edits)).filter((one) => /^(error|warning)/.test(one));
    expect(grave).toEqual(codes);
  });

  test("another circuit's neutral is told by its name", () => {
    const text = edited(
      ['box bell-box', 'supply attic-circuit : branch-circuit in basement { breaker 15 A }\n\nbox bell-box'],
      ['white  basement-circuit.neutral  to  neutrals', 'white  attic-circuit.neutral     to  neutrals'],
    );
    const [finding] = check(text).findings.filter(({ code }) => code === 'neutral-missing');
    expect(finding?.message).toContain('the neutral of `attic-circuit`');
  });
});

describe('what is said of the line side', () => {
  const codes = [
    'branch-overloaded',
    'breaker-exceeds-wire',
    'ground-missing',
    'neutral-missing',
    'hot-neutral-swapped',
    'line-shorted',
    'neutral-grounded',
    'box-overfilled',
    'joint-not-boxed',
    'line-meets-low-voltage',
    'mains-mismatch',
  ];

  test('errors of it are never accepted', () => {
    for (const code of codes) expect(recordChecks.find((one) => one.code === code)?.forbidsAccepting, code).toBe(true);
    const text = edited(['existing load 6 A', 'existing load 16 A']);
    expect(found(`${text}accept branch-overloaded on basement-circuit because "it has been so for years"\n`)).toEqual(
      expect.arrayContaining(['error branch-overloaded', 'error accept-forbidden']),
    );
  });

  test('sentences defer to local code and a licensed electrician, and call nothing safe or legal', () => {
    const texts = [
      edited(['existing load 6 A', 'existing load 16 A']),
      edited(['breaker 15 A', 'breaker 20 A']),
      edited(['ground grounds to bell-box\n', '']),
      edited(['volume 18 in3', 'volume 9 in3']),
      edited(['splice hots in bell-box', 'splice hots']),
    ];
    for (const text of texts) {
      const { findings } = check(text);
      expect(findings.length).toBeGreaterThan(0);
      for (const { message } of findings) {
        expect(message).toContain('local code and a licensed electrician decide');
        expect(message).not.toMatch(/\b(safe|legal|compliant|complies)\b/i);
      }
    }
  });

  test('every limit has its source, or says that it is common practice', () => {
    for (const { by } of Object.values(lineLimitTable)) {
      for (const limit of Object.values(by)) {
        if (limit) expect(limit.source).toMatch(/National Electrical Code|BS 7671|IEC \d|common practice|from memory/);
      }
    }
  });
});
