// The circuit drawing: its geometry over every record at hand, and what it says about the state that is chosen.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type CheckedRecord, checkRecord, parseWiring, readRecord } from '@ohmstead/language';
import {
  type Box,
  type Drawing,
  drawCircuit,
  drawingSvg,
  type DrawOptions,
  layOut,
  MOST_PARTS,
  type Point,
} from '@ohmstead/views/drawing';
import { beforeAll, describe, expect, test } from 'vitest';

const root = new URL('../../../', import.meta.url).pathname;
const wiring = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.wiring'))
    .map((name) => join(folder, name))
    .sort();
const text = (path: string) => readFileSync(join(root, path), 'utf8');
const checked = (source: string) => checkRecord(readRecord(parseWiring('file:///records/any.wiring', source)));
const drawingOf = ({ analysis, findings }: CheckedRecord, options: DrawOptions = {}) =>
  layOut(analysis, { findings, ...options });
const drawn = (source: string, options: DrawOptions = {}) => drawingOf(checked(source), options);

/** Houses with a supply, a chime and two buttons each, all fed from one place: four parts and three splices a house. */
function houses(count: number): string {
  const each = Array.from(
    { length: count },
    (_, n) => `
place flat-${n}
place door-${n} { outdoor }
supply tx-${n} : bell-transformer in plant { output 16 V AC, 10 VA }
device chime-${n} : two-note-chime in flat-${n}
device push-${n} : push-button in door-${n}
device lit-${n} : led-push-button in door-${n}
splice front-${n} in plant
splice rear-${n} in plant
splice back-${n} in plant
run up-${n} : 18/3 from plant to flat-${n}, 9 m {
    red tx-${n}.a to chime-${n}.trans
    white front-${n} to chime-${n}.front
    green rear-${n} to chime-${n}.rear
}
run down-${n} : 18/2 from plant to door-${n}, 12 m {
    red back-${n} to push-${n}.a
    white front-${n} to push-${n}.b
}
run side-${n} : 18/2 from plant to door-${n}, 12 m {
    red back-${n} to lit-${n}.a
    white rear-${n} to lit-${n}.b
}
pigtail tx-${n}.b to back-${n}
`,
  );
  return `wiring "Houses"\nplace plant\n${each.join('')}`;
}

/** Every kind of part and every odd joint at once: places within places, parts without one, jumpers, own leads, a changeover. */
const odd = `wiring "Odd"
place house
place attic in house
place cellar in house
device type relay "Relay" {
    terminal coil-a, coil-b, com, no, nc
    coil coil-a to coil-b { 16 V, 2 VA }
    contact com to no or nc
}
supply tx : tri-volt-transformer in cellar
supply dc : dc-adaptor
device bell : one-note-chime in attic
device kit : bypass-kit in attic { lands a on bell.trans, lands b on bell.front }
device switcher : relay in cellar
device push : lit-push-button
device pad : series-resistor in attic
device far : wireless-chime in attic
splice one in cellar
splice two
run a : 18/5 from cellar to attic, 10 m {
    red tx.middle to bell.trans
    white bell.front to one
    green one to switcher.com
    blue switcher.no to pad.a
    yellow pad.b to tx.common
}
run b : 20/2 from cellar to attic, 4 m {
    red switcher.coil-a to two
    white switcher.coil-b to push.a
}
jumper tx.common to two
jumper tx.high to push.b
jumper spare-link : switcher.nc to switcher.com
`;

const corpus: (readonly [string, string])[] = [
  ...[...wiring('examples'), ...wiring('packages/record/fixtures').filter((path) => !path.endsWith('good.wiring'))].map(
    (path) => [path, text(path)] as const,
  ),
  ['eight houses', houses(8)],
  ['odd joints', odd],
];

/** Each record of the corpus with its drawing at rest, read and laid out once for all tests. */
const drawings: { name: string; record: CheckedRecord; drawing: Drawing }[] = [];
beforeAll(async () => {
  for (const [name, source] of corpus) {
    const record = checked(source);
    drawings.push({ name, record, drawing: await drawingOf(record) });
  }
}, 600_000);

const overlap = (one: Box, other: Box, by = 0.5): boolean =>
  one.x + by < other.x + other.width &&
  other.x + by < one.x + one.width &&
  one.y + by < other.y + other.height &&
  other.y + by < one.y + one.height;

const segments = (points: readonly Point[]): Box[] =>
  points.slice(1).map((to, index) => {
    const from = points[index]!;
    return {
      x: Math.min(from.x, to.x),
      y: Math.min(from.y, to.y),
      width: Math.abs(from.x - to.x),
      height: Math.abs(from.y - to.y),
    };
  });

const shrunk = ({ x, y, width, height }: Box, by: number): Box => ({
  x: x + by,
  y: y + by,
  width: width - 2 * by,
  height: height - 2 * by,
});

/** What is wrong with the geometry, in words; nothing where it is as it should be. */
function faults(drawing: Drawing): string[] {
  const boxes = [
    ...drawing.parts.map((part) => ({ name: part.figure.name, box: part as Box })),
    ...drawing.splices.flatMap((splice) => [
      { name: splice.name, box: splice as Box },
      { name: `label of ${splice.name}`, box: splice.label },
    ]),
    ...drawing.wires.map(({ id, label }) => ({ name: `label of ${id}`, box: label as Box })),
  ];
  const wrong: string[] = [];
  for (const [index, one] of boxes.entries()) {
    for (const other of boxes.slice(index + 1))
      if (overlap(one.box, other.box)) wrong.push(`${one.name} over ${other.name}`);
    const { x, y, width, height } = one.box;
    if (x < 0 || y < 0 || x + width > drawing.width || y + height > drawing.height)
      wrong.push(`${one.name} off the sheet`);
  }
  for (const { id, points } of drawing.wires) {
    for (const segment of segments(points)) {
      if (segment.width > 0.01 && segment.height > 0.01) wrong.push(`${id} runs aslant`);
      for (const { name, box } of boxes) {
        if (name !== `label of ${id}` && overlap(segment, shrunk(box, 1), 0)) wrong.push(`${id} through ${name}`);
      }
    }
  }
  return wrong;
}

test('nothing overlaps and no conductor runs through a part or a label, in any record at hand', () => {
  const wrong: Record<string, string[]> = {};
  let parts = 0;
  for (const { name, drawing } of drawings) {
    parts += drawing.parts.length;
    const found = faults(drawing);
    if (found.length > 0) wrong[name] = found;
  }
  expect(parts).toBeGreaterThan(200);
  expect(wrong).toEqual({});
});

test('the search for faults finds a part moved onto another, and a conductor moved onto a part', () => {
  const { drawing } = drawings.find(({ name }) => name.endsWith('as-found-bell.wiring'))!;
  const [supply, chime, ...others] = drawing.parts;
  const moved = { ...drawing, parts: [supply!, { ...chime!, x: supply!.x, y: supply!.y }, ...others] };
  expect(faults(moved)).toContain('bell-tx over hall-chime');
  const middle = { x: supply!.x + supply!.width / 2, y: supply!.y + 60 };
  const [wire, ...rest] = drawing.wires;
  const astray = {
    ...wire!,
    points: [
      { x: 0, y: middle.y },
      { x: drawing.width, y: middle.y },
    ],
  };
  expect(faults({ ...drawing, wires: [astray, ...rest] })).toContain(`${wire!.id} through bell-tx`);
});

test('every part, splice, conductor and jumper is drawn once, each wire from screw to screw', () => {
  for (const { name, record, drawing } of drawings) {
    const { analysis } = record;
    expect(drawing.parts.map(({ figure }) => figure.name).sort(), name).toEqual([...analysis.parts.keys()].sort());
    const bridges = drawing.parts.flatMap(({ figure }) =>
      figure.columns.filter(({ bridge }) => bridge).map(({ id }) => id),
    );
    const wires = [...drawing.wires.map(({ id }) => id), ...bridges];
    expect(new Set(wires).size).toBe(wires.length);
    const screws = drawing.parts.flatMap(({ x, y, figure }) =>
      figure.rails.map((rail) => ({ x: x + (rail.side === 'WEST' ? 0 : figure.width), y: y + rail.y })),
    );
    for (const { id, points } of drawing.wires) {
      for (const end of [points[0]!, points.at(-1)!]) {
        const onScrew = screws.some(({ x, y }) => Math.hypot(x - end.x, y - end.y) < 0.5);
        const onSplice = drawing.splices.some((splice) =>
          overlap({ ...end, width: 0, height: 0 }, { ...splice, x: splice.x - 1, width: splice.width + 2 }, 0),
        );
        expect(onScrew || onSplice, `${name}: ${id}`).toBe(true);
      }
    }
  }
});

test('inside a part no symbol stands on another or out of its part', () => {
  for (const { name, drawing } of drawings) {
    for (const { figure } of drawing.parts) {
      const symbols = figure.columns.map(({ x, y }) => ({ x: x - 10, y: y - 16, width: 22, height: 32 }));
      for (const [index, symbol] of symbols.entries()) {
        expect(symbol.x > 0 && symbol.x + symbol.width < figure.width, `${name}: ${figure.name}`).toBe(true);
        for (const other of symbols.slice(index + 1))
          expect(overlap(symbol, other), `${name}: ${figure.name}`).toBe(false);
      }
    }
  }
});

describe('the state that is chosen', () => {
  const bell = text('examples/as-found-bell.wiring');
  const live = (drawing: Drawing) =>
    drawing.wires
      .filter((wire) => wire.live)
      .map(({ id }) => id)
      .sort();

  test('at rest carries nothing, and its contacts are open', async () => {
    const drawing = await drawn(bell);
    expect(live(drawing)).toEqual([]);
    const contacts = drawing.parts.flatMap(({ figure }) =>
      figure.columns.filter(({ element }) => element.kind === 'contact'),
    );
    expect(contacts.map(({ closed }) => closed)).toEqual([false, false]);
    expect(drawing.caption).toBe('At rest');
  });

  test('shows the contact closed and the way of the current', async () => {
    const drawing = await drawn(bell, { closed: ['porch-button'] });
    const closed = drawing.parts.filter(({ figure }) =>
      figure.columns.some((column) => column.element.kind === 'contact' && column.closed),
    );
    expect(closed.map(({ figure }) => figure.name)).toEqual(['porch-button']);
    expect(live(drawing)).toEqual([
      'jumper/jumper-1',
      'run/tx-to-hall/red',
      'run/tx-to-hall/white',
      'run/tx-to-porch/red',
      'run/tx-to-porch/white',
    ]);
    expect(drawing.caption).toBe('porch-button held');
  });

  test('moves nothing', async () => {
    const places = (drawing: Drawing) => drawing.parts.map(({ x, y, figure }) => [figure.name, x, y]);
    expect(places(await drawn(bell, { closed: ['yard-button'] }))).toEqual(places(await drawn(bell)));
  });
});

test('an edit that changes no wiring moves nothing, and one more device leaves its neighbours in order', async () => {
  const bell = text('examples/as-found-bell.wiring');
  const before = await drawn(bell);
  const longer = await drawn(bell.replace('9 m', '12 m'));
  expect(longer.wires.map(({ points }) => points)).toEqual(before.wires.map(({ points }) => points));
  const third = await drawn(
    `${bell}\ndevice gate-button : push-button in porch\nrun gate : 18/2 from basement to porch, 3 m {\n red joist-joint to gate-button.a\n white porch-return to gate-button.b\n}\n`,
  );
  const order = (drawing: Drawing) =>
    drawing.parts
      .filter(({ figure }) => figure.name !== 'gate-button')
      .sort((a, b) => a.x - b.x || a.y - b.y)
      .map(({ figure }) => figure.name);
  expect(order(third)).toEqual(order(before));
});

test('too many parts for one sheet are drawn circuit by circuit, and any circuit can be asked for', async () => {
  const source = houses(75);
  const first = await drawn(source);
  expect(checked(source).analysis.parts.size).toBeGreaterThan(MOST_PARTS);
  expect(first.parts.map(({ figure }) => figure.name).sort()).toEqual(['chime-0', 'lit-0', 'push-0', 'tx-0']);
  expect(first.caption).toBe('At rest; circuit 1 of 75');
  const other = await drawn(source, { circuitOf: 'chime-12' });
  expect(other.parts.map(({ figure }) => figure.name).sort()).toEqual(['chime-12', 'lit-12', 'push-12', 'tx-12']);
});

describe('findings', () => {
  test('are numbered by gravity at what they are about, and said below', async () => {
    const drawing = await drawn(text('examples/doorbell-first-try.wiring'));
    expect(drawing.notes.length).toBeGreaterThan(1);
    expect(drawing.notes[0]!.severity).toBe('error');
    const [first] = drawing.marks;
    const supply = drawing.parts.find(({ figure }) => figure.name === 'bell-tx')!;
    expect(first!.number).toBe(1);
    expect(overlap({ x: first!.at.x - 1, y: first!.at.y - 1, width: 2, height: 2 }, supply)).toBe(true);
    expect(drawingSvg(drawing)).toContain('Error: bell-tx gives 10 VA');
  });

  test('that somebody accepted are not marked', async () => {
    const source = text('examples/doorbell-done-right.wiring');
    const accepted = checked(source).findings.filter((finding) => finding.accepted);
    expect(accepted.length).toBeGreaterThan(0);
    expect((await drawn(source, { findings: accepted })).marks).toEqual([]);
  });
});

describe('as SVG', () => {
  test('names are no markup, and nothing reaches outside', async () => {
    const { analysis } = checked(
      'wiring "<script>alert(1)</script>"\nplace a "<b>&\'"\nsupply tx : bell-transformer in a\n',
    );
    const svg = await drawCircuit(analysis);
    expect(svg).toContain('&lt;script&gt;');
    expect(svg).not.toMatch(/<script|<b>|<image|<use|href|url\(|@import|\son\w+=/i);
  });

  test('colours are written on the conductors, and only insulation has colours of its own', async () => {
    const svg = drawingSvg(await drawn(text('examples/as-found-bell.wiring')));
    for (const words of ['RD tx-to-hall', 'WH tx-to-porch', 'GN tx-to-hall']) expect(svg).toContain(`>${words}</text>`);
    const body = svg.replace(/<style>[\s\S]*?<\/style>/, '');
    const literal = [...body.matchAll(/(?:fill|stroke)="(#\w+)"/g)].map((match) => match[1]);
    expect(new Set(literal)).toEqual(new Set(['#c62828', '#f5f5f2', '#2e7d32']));
  });

  // Each file has its record above the picture, and opens in a browser.
  test.each([
    ['as-found-bell', ['porch-button']],
    ['bell-on-rail-europe', []],
    ['bell-with-line-side', []],
  ])('snapshot: %s, held: %j', async (name, closed) => {
    const source = text(`examples/${name}.wiring`);
    const svg = drawingSvg(await drawn(source, { closed, findings: [] }));
    expect(source).not.toContain('--');
    const both = `<!--\n${source}-->\n${svg}`;
    await expect(both).toMatchFileSnapshot(join(root, `packages/cli/test/drawing/${name}.svg`));
  });
});

test('a state without figures is said to be one, so that it does not pass for one without current', async () => {
  const source = text('examples/around-the-house/heating-and-cooling.wiring');
  const contacts = checked(source).analysis.circuits.flatMap(({ circuit }) => circuit.contacts);
  expect(contacts.length).toBeGreaterThan(2);
  const all = await drawn(source, { closed: contacts, findings: [] });
  expect(all.caption).toContain('no figures can be given in this state');
  expect(drawingSvg(all)).toContain(all.caption);
  expect((await drawn(source)).caption).toBe('At rest');
});

test('an empty record is a sheet with its title', async () => {
  const svg = await drawCircuit(checked('wiring "Nothing yet"\n').analysis);
  expect(svg).toContain('Nothing yet');
  expect(svg).not.toContain('NaN');
});
