// An explanation as it is printed and shown, and the reading that is taken in its panel.
import type { ExplainedFault, Explanation, NextStep, ShownReading } from '@ohmstead/record';
import { describe, expect, test } from 'vitest';
import {
  draftLine,
  draftOf,
  EMPTY_DRAFT,
  type Explained,
  explainHtml,
  explainMarkdown,
  explainPanelHtml,
  type ExplainPanelChoice,
  explainText,
  explainView,
  isComplete,
  missingWords,
  withPoint,
} from '../src/index.js';

const fault = (what: string, likelihood: number, sameAs: readonly string[] = []): ExplainedFault => ({
  what,
  id: what,
  kinds: ['joint-loose'],
  parts: ['joint'],
  likelihood,
  predicts: [
    {
      block: 0,
      index: 0,
      at: 'across `bell.a` and `bell.b` at rest',
      predicted: { kind: 'unknown', reason: 'a test' },
      words: '0 to 0.2 V',
      fits: likelihood > 0.1,
    },
  ],
  sameAs,
});

const next: NextStep = {
  state: 'while `push` is held',
  between: ['`push.a`', '`push.b`'],
  tells: '15 V means the push',
  words: 'Hold `push` and read across `push.a` and `push.b`: 15 V means the push, 0 V the cable.',
  asked: {
    state: { kind: 'live', pressed: ['push'] },
    of: {
      kind: 'volts',
      between: [
        { kind: 'end', end: { part: 'push', terminal: 'a' } },
        { kind: 'conductor', run: 'run-1', colour: 'red', at: 'porch' },
      ],
    },
  },
  effort: 1,
};

const reading: ShownReading = {
  block: 0,
  index: 0,
  on: '2026-11-20',
  place: 'across `bell.a` and `bell.b`',
  state: 'at rest',
  read: '0 V',
  expected: '18.6 to 21 V',
  agrees: false,
  bad: null,
};

function explained(change: Partial<Explanation> = {}, readings: readonly ShownReading[] = [reading]): Explained {
  const explanation: Explanation = {
    version: 1,
    healthy: false,
    healthyLikelihood: 0.01,
    faults: [
      fault('the contact of `push` does not close', 0.4),
      fault('red is broken', 0.3, ['white is broken']),
      fault('white is broken', 0.25, ['red is broken']),
      fault('`bell` is <tired>', 0.05),
    ],
    excluded: [
      { what: '`bell` is dead', id: 'x', by: 'across `bell.a` and `bell.b` at rest: 0 V', block: 0, index: 0 },
    ],
    next,
    bad: [],
    notes: [],
    ...change,
  };
  return { title: 'House <b>', profile: 'north-america', explanation, readings };
}

describe('what is said', () => {
  test('groups what nothing tells apart, with its share together, the likeliest group first', () => {
    const view = explainView(explained());
    expect(view.faults.map(({ what, share }) => [what, share])).toEqual([
      ['red is broken', '55 %'],
      ['the contact of `push` does not close', '40 %'],
      ['`bell` is <tired>', '5 %'],
    ]);
    expect(view.faults[0]?.sameAs).toEqual(['white is broken (25 %)']);
  });

  test.each([
    [explained({}, []), 'Nothing has been read yet.'],
    [explained({ faults: [] }), 'No fault, and no two together, explain these readings.'],
    [
      explained({ healthy: true }),
      'The reading is what the house as recorded shows: no fault is needed to explain it.',
    ],
    [explained({ faults: [fault('`bell` is dead', 0.999)] }), 'Likeliest, at 99 %: `bell` is dead. Nothing else fits.'],
  ])('in one sentence', (of, verdict) => {
    expect(explainView(of).verdict).toBe(verdict);
  });

  test('of a sound house does not repeat what was read under each fault that is left', () => {
    const view = explainView(explained({ healthy: true }));
    expect(view.faultsHeading).toBe('What these readings do not rule out');
    expect(view.faults.every(({ predicts }) => predicts.length === 0)).toBe(true);
  });
});

describe('text', () => {
  const text = explainText(explained());
  test('has the verdict, the next step, the faults, the excluded and the readings in that order', () => {
    const order = [
      'Likeliest, at 55 %',
      'Hold push and read',
      '1  Red is broken: 55 %',
      'bell is dead',
      '0 V  disagrees  18.6',
    ];
    expect(order.map((words) => text.indexOf(words))).toEqual(
      [...order.map((words) => text.indexOf(words))].sort((one, other) => one - other),
    );
    for (const words of order) expect(text).toContain(words);
  });
  test('tells what fits from what is off, in lines of at most 100 characters', () => {
    expect(text).toContain('  = across bell.a');
    expect(text).toContain('  ! across bell.a');
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
  });
  test('says why a reading was left out', () => {
    const bad = explainText(explained({}, [{ ...reading, agrees: null, bad: 'nothing in `push` makes a sound' }]));
    expect(bad).toContain("can't be right");
    expect(bad).toContain('at rest. Nothing in push makes a sound.');
  });
});

describe('Markdown and HTML', () => {
  test('let no name become markup', () => {
    expect(explainMarkdown(explained())).toContain('# House \\<b\\>');
    expect(explainMarkdown(explained())).toContain('\\<tired\\>');
    const page = explainHtml(explained());
    expect(page).not.toContain('<b>');
    expect(page).toContain('&lt;tired&gt;');
    expect(page).not.toContain('<script');
  });
});

describe('the panel', () => {
  const choice: ExplainPanelChoice = {
    choices: {
      points: [
        {
          part: 'push',
          points: [
            { point: 'push.a', words: 'A' },
            { point: 'push.b', words: 'B' },
          ],
        },
      ],
      conductors: [{ part: 'run-1', points: [{ point: 'run-1.red', words: 'red' }] }],
      contacts: ['push'],
      parts: ['chime'],
    },
    draft: { ...EMPTY_DRAFT, points: ['push.b'] },
    typed: null,
    refused: null,
    taken: null,
    recentWork: false,
    stale: false,
  };
  const shown = (change: Partial<ExplainPanelChoice> = {}) => explainPanelHtml(explained(), { ...choice, ...change });

  test('labels every field, and says of each terminal whether it is chosen', () => {
    const html = shown();
    expect(html).toContain('aria-pressed="true" aria-label="push.b"');
    expect(html).toContain('aria-pressed="false" aria-label="push.a"');
    for (const id of ['value', 'line']) expect(html).toContain(`<label for="${id}">`);
    expect(html).not.toMatch(/ on[a-z]+=| style=/);
  });

  test('can be sent once it is whole', () => {
    expect(shown()).toContain('type="submit" class="act" aria-describedby="missing" disabled');
    expect(shown({ typed: 'mains 118 V' })).not.toContain('disabled');
    const whole = { ...EMPTY_DRAFT, points: ['push.a', 'push.b'], value: '0' };
    expect(shown({ draft: whole })).toContain('value="idle push.a, push.b 0 V"');
    expect(shown({ draft: whole })).not.toContain('disabled');
  });

  test('says what was written, and why something was not', () => {
    expect(shown({ taken: 'mains 118 V' })).toContain(
      'role="status">Written into the record: <code>mains 118 V</code>',
    );
    expect(shown({ refused: '`x` is <no> name' })).toContain('role="alert"><code>x</code> is &lt;no&gt; name');
  });

  test('offers conductors for a current, and parts for what is heard', () => {
    expect(shown({ draft: { ...EMPTY_DRAFT, kind: 'through' } })).toContain('data-point="run-1.red"');
    expect(shown({ draft: { ...EMPTY_DRAFT, kind: 'sign' } })).toContain('value="chime"');
  });
});

describe('a reading that is being taken', () => {
  test.each([
    [{ points: ['a.a', 'a.b'], value: '14.9' }, 'idle a.a, a.b 14.9 V', true],
    [{ points: ['a.a', 'a.b'], value: '6', state: 'off' }, 'off a.a, a.b 6 ohm', true],
    [{ points: ['a.a', 'a.b'], value: 'OL', state: 'off' }, 'off a.a, a.b OL', true],
    [{ points: ['a.a'], value: '3 V' }, 'idle a.a 3 V', false],
    [{ points: ['r.red'], value: '0.6', kind: 'through', state: 'push' }, 'pressed push through r.red 0.6 A', true],
    [{ part: 'chime', shows: 'hums', kind: 'sign', state: 'bridged push' }, 'bridged push chime hums', true],
    [{ value: '118', kind: 'mains', state: 'push' }, 'mains 118 V', true],
    [{ kind: 'mains' }, 'mains', false],
    // As a meter in Europe shows it.
    [{ points: ['a.a', 'a.b'], value: '14,9' }, 'idle a.a, a.b 14.9 V', true],
    [{ points: ['a.a', 'a.b'], value: '14,9 V' }, 'idle a.a, a.b 14.9 V', true],
  ] as const)('becomes a line of the record: %j', (change, line, whole) => {
    const draft = { ...EMPTY_DRAFT, ...change };
    expect(draftLine(draft)).toBe(line);
    expect(isComplete(draft)).toBe(whole);
  });

  test.each([
    [{}, 'Choose two points, and write the figure that the meter shows.'],
    [{ points: ['a.a'], value: '3' }, 'Choose one more point.'],
    [{ points: ['a.a', 'a.b'] }, 'Write the figure that the meter shows.'],
    [{ kind: 'through', value: '0.6' }, 'Choose a conductor or terminal.'],
    [{ kind: 'mains' }, 'Write the figure that the meter shows.'],
    [{ kind: 'sign' }, 'Choose the part that was heard or seen.'],
    [{ kind: 'sign', part: 'chime' }, null],
    [{ points: ['a.a', 'a.b'], value: 'no figure' }, null],
  ] as const)('says what is still missing of %j', (change, words) => {
    expect(missingWords({ ...EMPTY_DRAFT, ...change })).toBe(words);
  });

  test('takes two points, the latest two of more, and lets go of one chosen again', () => {
    const chosen = (...points: readonly string[]) => points.reduce(withPoint, EMPTY_DRAFT).points;
    expect(chosen('a', 'b')).toEqual(['a', 'b']);
    expect(chosen('a', 'b', 'c')).toEqual(['b', 'c']);
    expect(chosen('a', 'b', 'a')).toEqual(['b']);
    expect(['a', 'b'].reduce(withPoint, { ...EMPTY_DRAFT, kind: 'through' as const }).points).toEqual(['b']);
  });

  test('starts with what the finder asks for next', () => {
    expect(draftLine(draftOf(next))).toBe('pressed push push.a, run-1.red at porch');
    const bridged = draftOf({
      ...next,
      asked: { state: { kind: 'live', pressed: [], bridged: ['push'] }, of: { kind: 'sign', part: 'chime' } },
    });
    expect(draftLine(bridged)).toBe('bridged push chime silent');
  });
});
