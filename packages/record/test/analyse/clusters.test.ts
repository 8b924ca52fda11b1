// What hangs together after edits is what hangs together afresh, and what no edit touched stays what it was.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Cluster, type Clustering, clustersOf } from '../../src/analyse/clusters.js';
import type { Box, Installation, Part, Place } from '../../src/index.js';
import { conductor, device, end, installation, jumper, run, supply } from '../builder.js';

const PARTS = ['tx-a', 'tx-b', 'chime-a', 'chime-b', 'button-a', 'button-b'] as const;
const SPLICES = ['joint-a', 'joint-b', 'joint-c'] as const;
const PLACES = ['hall', 'cellar', 'box-a', 'box-b', undefined] as const;

const place: Place = { name: 'hall', outdoor: false, wet: false, concealed: false };
const box: Box = { name: 'box-a', place: 'cellar', metal: true, clamps: false, barrier: false, notes: [] };
const around = {
  places: [
    place,
    { ...place, name: 'cellar' },
    { ...place, name: 'box-a', within: 'cellar' },
    { ...place, name: 'box-b', within: 'hall' },
  ],
  boxes: [box, { ...box, name: 'box-b', place: 'hall' }],
};

const TYPES: Readonly<Record<string, string>> = {
  tx: 'bell-transformer',
  chime: 'two-note-chime',
  button: 'push-button',
};
const TERMINALS: Readonly<Record<string, readonly string[]>> = {
  tx: ['a', 'b'],
  chime: ['trans', 'front'],
  button: ['a', 'b'],
};

const point: fc.Arbitrary<string> = fc.oneof(
  fc.constantFrom(...SPLICES),
  fc
    .record({ part: fc.constantFrom(...PARTS), which: fc.constantFrom(0, 1) })
    .map(({ part, which }) => `${part}.${TERMINALS[part.split('-')[0]!]![which]!}`),
);

type Member = {
  readonly kind: 'part' | 'splice' | 'run' | 'jumper' | 'ground';
  readonly make: (name: string) => object;
};

const somewhere = fc.constantFrom(...PLACES);
const member: fc.Arbitrary<{ readonly name: string } & Member> = fc.oneof(
  fc.record({ name: fc.constantFrom(...PARTS), where: somewhere }).map(({ name, where }) => {
    const word = name.split('-')[0]!;
    const make = (): Part => ({ ...(word === 'tx' ? supply : device)(name, TYPES[word]!), place: where });
    return { kind: 'part' as const, name, make };
  }),
  fc.record({ name: fc.constantFrom(...SPLICES), where: somewhere }).map(({ name, where }) => {
    return { kind: 'splice' as const, name, make: () => ({ name, place: where, notes: [] }) };
  }),
  fc.record({ nth: fc.nat(3), from: point, to: point, where: somewhere }).map(({ nth, from, to, where }) => {
    const make = (name: string) => ({
      ...run(name, { conductors: [conductor('red', from, to)] }),
      fromPlace: where,
    });
    return { kind: 'run' as const, name: `run-${nth}`, make };
  }),
  fc.record({ nth: fc.nat(2), from: point, to: point }).map(({ nth, from, to }) => {
    return { kind: 'jumper' as const, name: `link-${nth}`, make: (name: string) => jumper(name, from, to) };
  }),
  fc.record({ on: point, nth: fc.constantFrom('box-a', 'box-b') }).map(({ on, nth }) => {
    return { kind: 'ground' as const, name: `${on} ${nth}`, make: () => ({ end: end(on), box: nth }) };
  }),
);

/** Each statement is made once: an edit leaves the others the objects that they were. */
type Stated = ReadonlyMap<string, { readonly kind: Member['kind']; readonly object: object }>;

function record(stated: Stated, broken: ReadonlySet<string>): Installation {
  const of = <T>(kind: Member['kind'], isOf: (object: T) => boolean = () => true): T[] =>
    [...stated.values()].filter((one) => one.kind === kind && isOf(one.object as T)).map(({ object }) => object as T);
  return {
    ...installation({
      supplies: of<Part>('part', (part) => part.kind === 'supply'),
      devices: of<Part>('part', (part) => part.kind === 'device'),
      splices: of('splice'),
      runs: of('run'),
      jumpers: of('jumper'),
    }),
    ...around,
    grounds: of('ground'),
    broken,
  };
}

function told(clustering: Clustering, names: Iterable<string>) {
  const ofCluster = ({ name, installation: own, names: all, isLoose }: Cluster) => {
    const { supplies, devices, splices, runs, jumpers, grounds, places, boxes, broken } = own;
    return {
      name,
      names: [...all].sort(),
      isLoose,
      supplies,
      devices,
      splices,
      runs,
      jumpers,
      grounds,
      places,
      boxes,
      broken,
    };
  };
  const inOrder = clustering.clusters.map(ofCluster).sort((one, other) => (one.name < other.name ? -1 : 1));
  return { inOrder, of: [...names].map((name) => [name, clustering.clusterOf(name)?.name]) };
}

test('of a record that is edited step by step', () => {
  let kept = 0;
  fc.assert(
    fc.property(
      fc.array(member, { minLength: 4, maxLength: 14 }),
      fc.array(fc.oneof(member, fc.record({ leaveOut: fc.nat() }), fc.record({ broken: fc.constantFrom(...PARTS) })), {
        minLength: 1,
        maxLength: 6,
      }),
      (first, edits) => {
        const stated = new Map<string, { kind: Member['kind']; object: object }>();
        const put = ({ kind, name, make }: { name: string } & Member) => stated.set(name, { kind, object: make(name) });
        for (const one of first) put(one);
        let broken: ReadonlySet<string> = new Set();
        let clustering = clustersOf(record(stated, broken));
        for (const edit of edits) {
          if ('leaveOut' in edit) stated.delete([...stated.keys()][edit.leaveOut % stated.size] ?? '');
          else if ('broken' in edit) broken = new Set(broken.has(edit.broken) ? [] : [edit.broken]);
          else put(edit);
          const now = record(stated, broken);
          const before = new Set(clustering.clusters);
          clustering = clustersOf(now, clustering);
          kept += clustering.clusters.filter((cluster) => before.has(cluster)).length;
          const names = [...PARTS, ...SPLICES, ...stated.keys(), 'box-a', 'box-b'];
          expect(told(clustering, names)).toEqual(told(clustersOf(now), names));
        }
      },
    ),
    { numRuns: 300 },
  );
  expect(kept).toBeGreaterThan(300);
});
