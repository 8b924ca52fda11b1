/** Random installations for properties: every part, splice, run and jumper that the builder knows, wired any way at all. */

import fc from 'fast-check';
import type { Conductor, End, Installation, Jumper, Landing, Part, Run, Splice } from '../../src/index.js';
import { AWG18, AWG20, cable, device, installation, output, supply } from '../builder.js';

const COLOURS = ['red', 'white', 'green'];
const TERMINALS: Readonly<Record<string, readonly string[]>> = {
  'bell-transformer': ['a', 'b'],
  'push-button': ['a', 'b'],
  'two-note-chime': ['trans', 'front', 'rear'],
  'video-doorbell': ['a', 'b'],
};

const subset = (names: readonly string[]) => fc.subarray([...names], { minLength: 1 });

/** Names are drawn from few, so that two records have some in common. */
export const anyInstallation: fc.Arbitrary<Installation> = fc
  .record({
    supplies: subset(['tx-one', 'tx-two']),
    devices: subset(['bell-a', 'bell-b', 'push-a', 'push-b', 'cam-a']),
    splices: subset(['joint-a', 'joint-b']),
    runs: subset(['run-a', 'run-b', 'run-c']),
    jumpers: fc.subarray(['bypass', 'link']),
    seed: fc.infiniteStream(fc.nat({ max: 9999 })),
  })
  .map(({ supplies, devices, splices, runs, jumpers, seed }) => {
    const next = (below: number): number => (seed.next().value as number) % below;
    const supplyParts = supplies.map((name) => supply(name, 'bell-transformer', output(16, [10, 20, 30][next(3)]!)));
    const deviceParts = devices.map((name): Part => {
      const choices = name.startsWith('bell') ? ['two-note-chime'] : ['push-button', 'video-doorbell'];
      const type = choices[next(choices.length)]!;
      return device(name, type, type === 'video-doorbell' ? { ring: 'none' } : {});
    });
    const spliceList: Splice[] = splices.map((name) => ({ name, notes: [] }));
    const ends: End[] = [
      ...[...supplyParts, ...deviceParts].flatMap((part) =>
        TERMINALS[part.type!]!.map((terminal) => ({ part: part.name, terminal })),
      ),
      ...splices.map((part) => ({ part })),
    ];
    const end = (): End => ends[next(ends.length)]!;
    const landing = (): Landing => (next(6) === 0 ? { kind: 'capped' } : { kind: 'on', end: end() });
    const conductor = (colour: string): Conductor => {
      if (next(5) === 0) return { colour, spare: true };
      const [from, to] = [landing(), landing()];
      const isOff = from.kind === 'capped' && to.kind === 'capped';
      return isOff ? { colour, spare: true } : { colour, from, to, spare: false };
    };
    const runList: Run[] = runs.map((name) => ({
      name,
      cable: cable(next(2) === 0 ? AWG18 : AWG20, COLOURS),
      cableWords: '18/3',
      length: { value: 3 + next(30) },
      conductors: COLOURS.map(conductor),
      notes: [],
    }));
    const jumperList = jumpers.flatMap((name): Jumper[] => {
      const [from, to] = [end(), end()];
      return [{ name, named: true, kind: 'jumper', from, to }];
    });
    return installation({
      title: 'Any house',
      supplies: supplyParts,
      devices: deviceParts,
      splices: spliceList,
      runs: runList,
      jumpers: jumperList,
    });
  });

/** The same record told in another order. */
export function turned(record: Installation): Installation {
  const turn = <T>(list: readonly T[]): readonly T[] => [...list].reverse();
  return {
    ...record,
    supplies: turn(record.supplies),
    devices: turn(record.devices),
    splices: turn(record.splices),
    jumpers: turn(record.jumpers).map((one) => ({ ...one, from: one.to, to: one.from })),
    runs: turn(record.runs).map((run) => ({
      ...run,
      conductors: turn(run.conductors).map(({ from, to, ...one }) => ({
        ...one,
        ...(to ? { from: to } : {}),
        ...(from ? { to: from } : {}),
      })),
    })),
  };
}

/** Every name another, with all that refers to it. */
export function renamed(record: Installation, nameNow: (name: string) => string): Installation {
  const end = (one: End): End => ({ ...one, part: nameNow(one.part) });
  const landing = (one: Landing | undefined): Landing | undefined =>
    one?.kind === 'on' ? { ...one, end: end(one.end) } : one;
  const part = (one: Part): Part => ({ ...one, name: nameNow(one.name) });
  return {
    ...record,
    supplies: record.supplies.map(part),
    devices: record.devices.map(part),
    splices: record.splices.map((one) => ({ ...one, name: nameNow(one.name) })),
    jumpers: record.jumpers.map((one) => ({ ...one, name: nameNow(one.name), from: end(one.from), to: end(one.to) })),
    runs: record.runs.map((run) => ({
      ...run,
      name: nameNow(run.name),
      conductors: run.conductors.map((one) => ({
        ...one,
        ...(one.from ? { from: landing(one.from)! } : {}),
        ...(one.to ? { to: landing(one.to)! } : {}),
      })),
    })),
  };
}
