// What the finder tells a person to do next, and what it says each outcome would mean, held against hidden houses.
import { beforeAll, describe, expect, test } from 'vitest';
import { type Analysis, explain, type NextStep, type Reading } from '../../packages/record/src/index.js';
import { drawsFrom } from './draws.js';
import { HiddenHouse } from './hidden-house.js';
import { withReadings } from './hunt.js';
import { analysisOf, examples, randomRecords } from './records.js';
import { trueFaults } from './true-faults.js';

interface Step {
  readonly next: NextStep;
  readonly answer: Reading;
  /** What was done right before. */
  readonly before: Reading | undefined;
}

const MOST_STEPS = 7;

function stepsFor(analysis: Analysis, id: string, seed: number): readonly Step[] {
  const draws = drawsFrom(seed);
  const house = new HiddenHouse(analysis, draws);
  trueFaults(analysis)
    .find((one) => one.id === id)!
    .put(house, draws);
  const steps: Step[] = [];
  while (steps.length < MOST_STEPS) {
    const { next } = explain(
      withReadings(
        analysis,
        steps.map(({ answer }) => answer),
      ),
    );
    if (next === null) break;
    steps.push({ next, answer: house.answer(next.asked), before: steps.at(-1)?.answer });
  }
  return steps;
}

/** A name may have a point in it, a figure too: a sentence ends where a capital follows. */
const sentencesOf = (words: string): readonly string[] => words.split(/(?<=\.) (?=[A-Z])/);

const named = examples(new URL('../..', import.meta.url).pathname);
const record = (name: string): Analysis => named.find((one) => one.name === name)!.analysis;
const isOff = (reading: Reading | undefined): boolean => reading?.state.kind === 'off';

describe('steps', () => {
  let steps: readonly Step[] = [];

  beforeAll(() => {
    steps = [
      ...stepsFor(record('as-found-bell.wiring'), 'joint-loose tx-to-hall.green@from', 3),
      ...stepsFor(record('doorbell-done-right.wiring'), 'conductor-open tx-to-porch.red', 4),
      ...stepsFor(record('bell-on-spur-uk.wiring'), 'joint-loose tx-to-door.white@to', 5),
      ...randomRecords(2, 77).flatMap(({ analysis }, k) => {
        const all = trueFaults(analysis);
        return stepsFor(analysis, drawsFrom(k).pick(all).id, k);
      }),
    ];
    expect(steps.length).toBeGreaterThan(12);
  }, 120_000);

  test('are told in sentences that one can take in', () => {
    const long = steps
      .flatMap(({ next }) => sentencesOf(next.words))
      .filter((sentence) => sentence.split(/\s+/).length > 45 || !sentence.endsWith('.'));
    expect(long).toEqual([]);
  });

  test('say where, in which state, and what comes of it', () => {
    for (const { next } of steps) {
      const { state, of } = next.asked;
      for (const point of next.between) expect(next.words).toContain(point);
      if (state.kind === 'live') {
        const named = [...state.pressed, ...(state.bridged ?? [])].map((name) => name.replace(/\.ring$/, ''));
        for (const name of named) expect(next.words).toContain(`\`${name}\``);
        if (named.length === 0) expect(next.words).toContain('With nothing pressed');
      }
      if (of.kind === 'volts') expect(next.words).toMatch(/\b(AC|DC) volts across\b/);
      expect(next.words.endsWith(next.tells)).toBe(true);
      expect(next.tells).toMatch(/ means .*\./);
    }
  });

  test('have the lead lifted once, and put back before it is live again', () => {
    expect(steps.some(({ next }) => next.asked.state.kind === 'off')).toBe(true);
    for (const { next, before } of steps) {
      const off = next.asked.state.kind === 'off';
      expect(/Lift one low-voltage lead off /.test(next.words), next.words).toBe(off && !isOff(before));
      expect(/Put the lifted lead of .* back on/.test(next.words), next.words).toBe(!off && isOff(before));
      expect(/ still lifted, read ohms /.test(next.words), next.words).toBe(off && isOff(before));
    }
  });

  test('look or listen first', () => {
    for (const { next, before } of steps) if (before === undefined) expect(next.asked.of.kind).toBe('sign');
  });

  test('warn of the mains where a transformer is probed', () => {
    const atSupply = steps.filter(({ next }) => next.between.some((point) => point.startsWith('`bell-tx.')));
    expect(atSupply.length).toBeGreaterThan(0);
    for (const { next } of atSupply) expect(next.words).toContain('Keep clear of the mains terminals of `bell-tx`.');
  });
});

const SHOWN: Readonly<Record<string, string>> = {
  Silence: 'silent',
  'A ring': 'rings',
  'A hum': 'hums',
  'A light': 'lit',
  'No light': 'dark',
};

/** Whether an outcome's words cover what was read: figures within what a house may differ by from its record. */
function covers(subject: string, { of }: Reading): boolean {
  if (of.kind === 'sign') return SHOWN[subject.replace(/ at .*$/, '')] === of.shows;
  const figure = of.kind === 'volts' ? of.volts : of.kind === 'ohms' ? of.ohms : undefined;
  if (figure === null) return subject === 'OL' || subject === 'Any figure but OL';
  const [, about] = /^About ([\d.]+) (?:V|ohm)$/.exec(subject) ?? [];
  const [, least, most] = /^From ([\d.]+) to ([\d.]+) (?:V|ohm)$/.exec(subject) ?? [];
  const [from, to] = about === undefined ? [Number(least), Number(most)] : [Number(about), Number(about)];
  return figure !== undefined && figure >= 0.65 * from - 1 && figure <= 1.4 * to + 1;
}

test.each([
  ['as-found-bell.wiring', 'contact-stuck-open porch-button', 'the contact of `porch-button` does not close'],
  ['as-found-bell.wiring', 'supply-dead bell-tx', '`bell-tx` is dead'],
  [
    'bell-with-line-side.wiring',
    'plunger-stuck hall-chime front',
    'the plunger of the front coil of `hall-chime` is stuck',
  ],
  ['bell-on-spur-uk.wiring', 'coil-open hall-chime front', 'the front coil of `hall-chime` is burnt through'],
])('in %s with %s, what is read is what the step said of it', (name, id, what) => {
  let told = 0;
  for (const { next, answer } of stepsFor(record(name), id, 11)) {
    const sentence = sentencesOf(next.tells).find((one) => one.includes(what));
    if (sentence === undefined) continue;
    told++;
    expect(covers(sentence.split(' means ')[0]!, answer), `${sentence} ${JSON.stringify(answer)}`).toBe(true);
  }
  expect(told).toBeGreaterThan(0);
});

const bell = (bypass: string) =>
  analysisOf(`wiring "Bell"
profile north-america
place basement
place hall
place porch { outdoor }
supply bell-tx : bell-transformer in basement { output 16 V AC, 10 VA }
device hall-chime : one-note-chime in hall { rating 16 V AC, 10 VA }
device porch-button : push-button in porch
splice joist-joint in basement
run tx-to-hall : 18/2 from basement to hall, 10 m {
    red  bell-tx.a  to  hall-chime.trans
    white  joist-joint  to  hall-chime.front
}
run tx-to-porch : 18/2 from basement to porch, 10 m {
    red  bell-tx.b  to  porch-button.a
    white  joist-joint  to  porch-button.b
}
${bypass}`);

describe('two wires held together at a push', () => {
  const bridgedIn = (analysis: Analysis): readonly Step[] =>
    ['joint-loose tx-to-porch.white@to', 'contact-stuck-open porch-button', 'conductor-open tx-to-hall.red'].flatMap(
      (id) =>
        stepsFor(analysis, id, 21).filter(
          ({ next: { asked } }) => asked.state.kind === 'live' && (asked.state.bridged ?? []).length > 0,
        ),
    );

  test('are asked for where a chime is in the loop', () => {
    expect(bridgedIn(bell('')).length).toBeGreaterThan(0);
  });

  test('are not asked for where a bypass leaves nothing but wire', () => {
    expect(bridgedIn(bell('jumper chime-bypass : hall-chime.trans to hall-chime.front'))).toEqual([]);
  });
});
