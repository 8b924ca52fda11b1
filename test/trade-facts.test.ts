// Facts of the trade, each common practice, no source, held on whole records in the notation.
import { describe, expect, test } from 'vitest';
import { type CheckedRecord, checkRecord, parseWiring, readRecord } from '../packages/language/src/index.js';

function check(text: string): CheckedRecord {
  return checkRecord(readRecord(parseWiring('file:///records/house.wiring', text)));
}

function grave({ findings }: CheckedRecord): string[] {
  return findings.filter(({ severity }) => severity === 'error' || severity === 'warning').map(({ code }) => code);
}

/** Volts across an element of a part with these contacts closed, at nominal mains. */
function voltsOf({ analysis }: CheckedRecord, part: string, element: number, closed: readonly string[]): number {
  const found = analysis.parts.get(part)!.elements[element]!;
  const solved = analysis.circuitOfElement(found.id)!.at('nominal', closed, 'idle')!;
  const { re, im } = solved.solution.element(found.id)!.volts;
  return Math.hypot(re, im);
}

interface House {
  readonly output?: string;
  readonly at?: string;
  readonly needs?: string;
  readonly bypass?: boolean;
  readonly cable?: string;
  readonly length?: string;
  readonly swapped?: boolean;
}

/** A chime and one thing at the door: a plain button, or a video doorbell where `at` says so. */
function house({
  output = '16 V AC, 10 VA',
  at = 'push-button',
  needs,
  bypass,
  cable,
  length,
  swapped,
}: House): string {
  const [red, white] = swapped ? ['joint', 'bell-tx.b'] : ['bell-tx.b', 'joint'];
  return `wiring "House"
supply bell-tx : bell-transformer { output ${output} }
device hall-chime : two-note-chime { rating 16 V AC, 10 VA }
device door : ${at} { ${needs ? `needs supply ${needs} or more, ring none` : ''} }
splice joint
run tx-to-hall : 18/2, 9 m {
    red    bell-tx.a  to  hall-chime.trans
    white  joint      to  hall-chime.front
}
run tx-to-door : ${cable ?? '18/2'}, ${length ?? '12 m'} {
    red    ${red}    to  door.a
    white  ${white}  to  door.b
}
${bypass ? 'jumper hall-chime.trans to hall-chime.front' : ''}
`;
}

const doorbell = { at: 'video-doorbell', needs: '10 VA', bypass: true } as const;

describe('common practice, no source', () => {
  test.each(['16 V AC, 10 VA', '16 V AC, 30 VA', '18 V AC, 20 VA', '24 V AC, 20 VA'])(
    'a North American bell transformer gives 16 to 24 V from 110-120 V mains: %s is taken as it stands',
    (output) => {
      expect(grave(check(house({ ...doorbell, output })))).toEqual([]);
    },
  );

  test('VA is volts times amperes', () => {
    const winding = check(house({ output: '16 V AC, 10 VA' }))
      .analysis.parts.get('bell-tx')!
      .elements.find(({ element }) => element.kind === 'winding')!;
    expect(winding.ratedVolts! * winding.ratedAmps!).toBeCloseTo(10, 9);
    expect(winding.ratedAmps).toBeCloseTo(0.625, 9);
  });

  const two = (output: string) =>
    check(`${house({ ...doorbell, output })}
device yard-cam : video-doorbell { needs supply 10 VA or more, ring none }
run tx-to-yard : 18/2, 12 m {
    red    bell-tx.b  to  yard-cam.a
    white  joint      to  yard-cam.b
}
`);

  test('two loads of 10 VA each want a supply of 20 VA or more', () => {
    expect(grave(two('16 V AC, 10 VA'))).toEqual(['supply-too-small']);
    expect(grave(two('16 V AC, 15 VA'))).toEqual(['supply-too-small']);
    expect(grave(two('16 V AC, 20 VA'))).toEqual([]);
  });

  test('30 VA is fine for them: more VA than needed harms nothing, since loads draw what they need', () => {
    expect(grave(two('16 V AC, 30 VA'))).toEqual([]);
    expect(grave(two('16 V AC, 50 VA'))).toEqual([]);
    const drawn = ['16 V AC, 30 VA', '16 V AC, 50 VA'].map((output) => {
      const { analysis } = check(house({ ...doorbell, output }));
      const load = analysis.parts.get('door')!.elements.find(({ element }) => element.kind === 'load')!;
      const { volts, amps } = analysis.circuitOfElement(load.id)!.at('nominal', [], 'idle')!.solution.element(load.id)!;
      return Math.hypot(volts.re, volts.im) * Math.hypot(amps!.re, amps!.im);
    });
    expect(drawn[0]).toBeCloseTo(3, 6);
    expect(drawn[1]).toBeCloseTo(3, 6);
  });

  test("a supply of more volts than the chime's rating can burn it", () => {
    expect(grave(check(house({ output: '24 V AC, 20 VA' })))).toEqual(['device-overvoltage']);
    expect(grave(check(house({ output: '20 V AC, 20 VA' })))).toEqual(['device-overvoltage']);
    expect(grave(check(house({ output: '18 V AC, 20 VA' })))).toEqual([]);
  });

  test('a chime is powered only while a button is pressed', () => {
    const bell = check(house({}));
    expect(voltsOf(bell, 'hall-chime', 0, [])).toBeCloseTo(0, 6);
    expect(voltsOf(bell, 'hall-chime', 0, ['door'])).toBeGreaterThan(14);
  });

  test('so a video doorbell behind it has no constant power until the chime is bypassed', () => {
    expect(grave(check(house({ ...doorbell, bypass: false, output: '16 V AC, 30 VA' })))).toContain('bypass-missing');
    expect(grave(check(house({ ...doorbell, output: '16 V AC, 30 VA' })))).toEqual([]);
  });

  test("the bypass goes between the supply's terminal and that door's: at the other door's it does nothing", () => {
    const wrong = house({ ...doorbell, bypass: false, output: '16 V AC, 30 VA' });
    expect(grave(check(`${wrong}jumper hall-chime.trans to hall-chime.rear\n`))).toContain('bypass-missing');
  });

  test('with one loop either conductor may go to either transformer screw', () => {
    const one = check(house({}));
    const other = check(
      house({}).replace('bell-tx.a', 'bell-tx.x').replace('bell-tx.b', 'bell-tx.a').replace('bell-tx.x', 'bell-tx.b'),
    );
    expect(grave(other)).toEqual([]);
    expect(voltsOf(other, 'hall-chime', 0, ['door'])).toBeCloseTo(voltsOf(one, 'hall-chime', 0, ['door']), 9);
    expect(grave(check(house({ swapped: true })))).toEqual([]);
  });

  test('18 AWG carries more than 20 AWG: the same doorbell farther away', () => {
    const at = (cable: string) => grave(check(house({ ...doorbell, output: '16 V AC, 30 VA', cable, length: '80 m' })));
    expect(at('20/2')).toEqual(['device-undervoltage']);
    expect(at('18/2')).toEqual([]);
  });

  test('a second door has its own button and its own chime terminal', () => {
    const record = check(`${house({})}
device yard-button : push-button
splice yard-joint
run hall-to-yard : 18/2, 10 m {
    red    hall-chime.rear  to  yard-joint
    white  capped           to  capped
}
run tx-to-yard : 18/2, 12 m {
    red    bell-tx.b   to  yard-button.a
    white  yard-joint  to  yard-button.b
}
`);
    expect(grave(record)).toEqual([]);
    expect(voltsOf(record, 'hall-chime', 1, ['yard-button'])).toBeGreaterThan(14);
    expect(voltsOf(record, 'hall-chime', 1, ['door'])).toBeCloseTo(0, 6);
    expect(voltsOf(record, 'hall-chime', 0, ['yard-button'])).toBeCloseTo(0, 6);
  });

  test('a record whose video doorbell is removed and whose bypass is taken out works as a plain bell again', () => {
    const cam = house({ ...doorbell, output: '16 V AC, 30 VA' });
    const put = cam.replace(/^device door : .*$/m, 'device door : push-button');
    expect(grave(check(put))).toEqual(['supply-shorted']);
    const back = check(put.replace(/^jumper .*$/m, ''));
    expect(back.findings).toEqual([]);
    expect(voltsOf(back, 'hall-chime', 0, ['door'])).toBeGreaterThan(14);
  });
});
