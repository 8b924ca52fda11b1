/** A work order carried out on an installation, step by step, as somebody with a screwdriver would. */

import { type Conductor, type Installation, type Part, pointOf, type Run, type WorkStep } from '../../src/index.js';

interface Standing {
  readonly parts: Map<string, string>;
  readonly runs: Map<string, string>;
  /** `run.colour` to the points that it is on, one for each end. */
  readonly ends: Map<string, string[]>;
  readonly jumpers: Map<string, string>;
}

const partsOf = ({ supplies, devices, splices }: Installation): [string, string][] => [
  ...[...supplies, ...devices].map((part): [string, string] => [part.name, said(part)]),
  ...splices.map(({ name }): [string, string] => [name, 'splice']),
];
const said = ({ kind, type, facts }: Part): string => JSON.stringify([kind, type, facts]);
const cableOf = ({ cable }: Run): string => JSON.stringify(cable?.size);

function endsOf({ from, to, spare }: Conductor): string[] {
  return (spare ? [] : [from, to]).flatMap((one) => (one?.kind === 'on' ? [pointOf(one.end)] : []));
}

function standingOf(record: Installation): Standing {
  return {
    parts: new Map(partsOf(record)),
    runs: new Map(record.runs.map((run) => [run.name, cableOf(run)])),
    ends: new Map(
      record.runs.flatMap(({ name, conductors }) =>
        conductors.map((one): [string, string[]] => [`${name}.${one.colour}`, endsOf(one)]),
      ),
    ),
    jumpers: new Map(record.jumpers.map(({ name, from, to }) => [name, [pointOf(from), pointOf(to)].sort().join(' ')])),
  };
}

/** What is on the wall, in one order. */
export function wiringOf(record: Installation | Standing): unknown {
  const { parts, runs, ends, jumpers } = 'supplies' in record ? standingOf(record) : record;
  const landed = [...ends].filter(([, points]) => points.length > 0);
  return {
    parts: [...parts].map(([name, what]) => `${name}: ${what}`).sort(),
    runs: [...runs].map(([name, what]) => `${name}: ${what}`).sort(),
    ends: landed.map(([name, points]) => `${name}: ${points.sort().join(' ')}`).sort(),
    jumpers: [...jumpers].map(([name, points]) => `${name}: ${points}`).sort(),
  };
}

/** Throws where a step does what can't be done: lifts what is not there, lands on what is not mounted. */
export function workedOn(before: Installation, after: Installation, steps: readonly WorkStep[]): Standing {
  const standing = standingOf(before);
  const { parts, runs, ends, jumpers } = standing;
  const newParts = new Map(partsOf(after));
  const newRuns = new Map(after.runs.map((run) => [run.name, cableOf(run)]));
  const newJumpers = standingOf(after).jumpers;
  const must = (holds: boolean, words: string): void => {
    if (!holds) throw new Error(words);
  };
  const partIn = (point: string): string => point.split('.')[0]!;
  const replace = (point: string, was: string, is: string): string =>
    partIn(point) === was ? point.replace(was, is) : point;
  for (const { does, words } of steps) {
    switch (does?.kind) {
      case 'lift': {
        const points = ends.get(`${does.run}.${does.colour}`) ?? [];
        must(points.includes(does.from), words);
        points.splice(points.indexOf(does.from), 1);
        break;
      }
      case 'remove-jumper':
        must(jumpers.delete(does.jumper), words);
        break;
      case 'remove-part': {
        const used = [...ends.values()].flat().concat([...jumpers.values()].flatMap((points) => points.split(' ')));
        must(!used.some((point) => partIn(point) === does.part), `${words} Something is still on it.`);
        must(parts.delete(does.part), words);
        break;
      }
      case 'remove-run':
        must(runs.delete(does.run), words);
        for (const key of [...ends.keys()].filter((one) => one.startsWith(`${does.run}.`))) {
          must(ends.get(key)!.length === 0, `${words} It is still landed.`);
          ends.delete(key);
        }
        break;
      case 'rename': {
        const { before: was, after: is } = does;
        if (runs.has(was)) {
          runs.set(is, runs.get(was)!);
          runs.delete(was);
          for (const [key, points] of [...ends].filter(([key]) => key.startsWith(`${was}.`))) {
            ends.delete(key);
            ends.set(`${is}${key.slice(was.length)}`, points);
          }
        } else if (jumpers.has(was)) {
          jumpers.set(is, jumpers.get(was)!);
          jumpers.delete(was);
        } else {
          must(parts.has(was), words);
          parts.set(is, parts.get(was)!);
          parts.delete(was);
          for (const [key, points] of ends)
            ends.set(
              key,
              points.map((point) => replace(point, was, is)),
            );
          for (const [key, points] of jumpers) {
            const now = points.split(' ').map((point) => replace(point, was, is));
            jumpers.set(key, now.sort().join(' '));
          }
        }
        break;
      }
      case 'mount':
        must(!parts.has(does.part) && newParts.has(does.part), words);
        parts.set(does.part, newParts.get(does.part)!);
        break;
      case 'pull':
        must(!runs.has(does.run) && newRuns.has(does.run), words);
        runs.set(does.run, newRuns.get(does.run)!);
        break;
      case 'land': {
        must(parts.has(partIn(does.on)) && runs.has(does.run), words);
        const key = `${does.run}.${does.colour}`;
        ends.set(key, [...(ends.get(key) ?? []), does.on]);
        must(ends.get(key)!.length <= 2, `${words} It has no third end.`);
        break;
      }
      case 'fit-jumper':
        must(newJumpers.has(does.jumper) && !jumpers.has(does.jumper), words);
        jumpers.set(does.jumper, newJumpers.get(does.jumper)!);
        break;
    }
  }
  return standing;
}
