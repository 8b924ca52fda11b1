/** Every single fault that a house can have, told without the finder: what is done to the hidden house, under the name the finder gives it. */

import type { Analysis, ResolvedPart } from '../../packages/record/src/index.js';
import { pointOf } from '../../packages/record/src/index.js';
import type { Draws } from './draws.js';
import type { HiddenHouse } from './hidden-house.js';

export interface TrueFault {
  readonly id: string;
  readonly kind: string;
  /** Puts it into a house that was drawn sound. */
  put(house: HiddenHouse, draws: Draws): void;
}

const fault = (kind: string, on: string, put: TrueFault['put']): TrueFault => ({ id: `${kind} ${on}`, kind, put });
const ENDS = ['from', 'to'] as const;

export function trueFaults(analysis: Analysis): readonly TrueFault[] {
  return [...analysis.parts.values()].flatMap((part) => faultsOfPart(analysis, part)).concat(faultsOfWiring(analysis));
}

function faultsOfPart(analysis: Analysis, part: ResolvedPart): TrueFault[] {
  const faults: TrueFault[] = [];
  const of = (kind: string) => part.elements.filter(({ element }) => element.kind === kind);
  const isWired = ({ a, b }: { a: string; b: string }) => [a, b].every((point) => analysis.landedOn(point).length > 0);
  const windings = of('winding');
  if (windings.length > 0) {
    faults.push(
      fault('supply-dead', part.name, (house) => house.scaleSupply(part.name, 0, 1)),
      fault('supply-off', part.name, (house) => house.scaleSupply(part.name, 0, 1)),
      fault('supply-tired', part.name, (house, draws) => house.scaleSupply(part.name, 1, draws.factor(3.5, 12))),
    );
    const rated = windings[0]!.ratedVolts ?? 0;
    for (const volts of windings.length === 1 ? [8, 10, 12, 16, 18, 24] : []) {
      if (rated > 60 || Math.abs(Math.log(volts / rated)) < 0.2) continue;
      faults.push(
        fault('supply-other-volts', `${part.name} ${volts}`, (house) =>
          house.scaleSupply(part.name, volts / rated, (volts / rated) ** 2),
        ),
      );
    }
  }
  const contacts = of('contact').filter(isWired);
  if (contacts.length > 0 && of('load').length === 0) {
    const name = contacts[0]!.contact!;
    faults.push(
      fault('contact-corroded', name, (house, draws) => house.contact(name, draws.factor(5, 100))),
      fault('contact-stuck-open', name, (house) => house.contact(name, 'open')),
      fault('contact-stuck-closed', name, (house) => house.contact(name, 'closed')),
    );
  }
  const heard = [...of('coil'), ...(part.role === 'chime' ? of('load') : [])];
  for (const element of [...of('coil'), ...of('load')].filter(isWired)) {
    const on =
      heard.length > 1
        ? `${part.name} ${element.element.kind === 'coil' || element.element.kind === 'load' ? element.element.b : ''}`
        : part.name;
    if (element.element.kind === 'load') {
      faults.push(fault('load-dead', on, (house) => house.remove(element.id)));
    } else {
      faults.push(
        fault('coil-open', on, (house) => house.remove(element.id)),
        fault('coil-turns-shorted', on, (house, draws) => house.scaleOhms(element.id, draws.factor(0.08, 0.35))),
        fault('plunger-stuck', on, (house) => house.stick(element.id)),
      );
    }
    const isBypassed = analysis.installation.jumpers.some(({ from, to }) => {
      const ends = [pointOf(from), pointOf(to)];
      return ends.includes(element.a) && ends.includes(element.b);
    });
    if (part.role === 'chime' && !isBypassed) {
      faults.push(
        fault('bypass-left-in', `${element.a} ${element.b}`, (house) => house.join(element.a, element.b, 0.03)),
      );
    }
  }
  const ring = of('contact').find(({ element }) => element.kind === 'contact' && element.name === 'ring');
  if (ring !== undefined) faults.push(fault('ring-setting', part.name, (house) => house.toggleRing(ring.id)));
  for (const { id } of of('bypass')) {
    faults.push(
      fault('bypass-failed-open', part.name, (house) => house.remove(id)),
      fault('bypass-failed-closed', part.name, (house) => house.latch(id)),
    );
  }
  return faults;
}

function faultsOfWiring(analysis: Analysis): TrueFault[] {
  const faults: TrueFault[] = [];
  const lines = lineSide(analysis);
  const loosen = (house: HiddenHouse, draws: Draws, joint: string): void => {
    if (draws.next() < 0.5) house.remove(joint);
    else house.setOhms(joint, draws.factor(5, 300));
  };
  for (const { run, conductors } of analysis.runs.values()) {
    const landed = conductors.filter(({ from, to }) => from !== undefined && to !== undefined);
    if (landed.some(({ from, to }) => lines.has(pointOf(from!)) || lines.has(pointOf(to!)))) continue;
    for (const { colour } of landed) {
      const id = `${run.name}.${colour}`;
      for (const end of ENDS) {
        faults.push(fault('joint-loose', `${id}@${end}`, (house, draws) => loosen(house, draws, `${id}@${end}`)));
      }
      faults.push(fault('conductor-open', id, (house) => house.remove(id)));
    }
    landed.forEach((one, k) => {
      for (const other of landed.slice(k + 1)) {
        if (pointOf(one.from!) === pointOf(other.from!) && pointOf(one.to!) === pointOf(other.to!)) continue;
        const on = `${run.name}.${one.colour}-${other.colour}`;
        const join = (house: HiddenHouse, draws: Draws, ohms: number): void => {
          const end = draws.pick(ENDS);
          house.join(`${run.name}.${one.colour}@${end}`, `${run.name}.${other.colour}@${end}`, ohms);
        };
        faults.push(
          fault('pair-shorted', on, (house, draws) => join(house, draws, 0.05)),
          fault('pair-leaking', on, (house, draws) => join(house, draws, draws.factor(100, 10_000))),
        );
        for (const end of ENDS) {
          const [x, y] = [one[end]!, other[end]!].map(pointOf) as [string, string];
          if (x === y || isEitherScrew(analysis, x, y)) continue;
          const ends = [`${run.name}.${one.colour}@${end}`, `${run.name}.${other.colour}@${end}`] as const;
          faults.push(fault('ends-swapped', ends.join(' '), (house) => house.swap(ends[0], ends[1])));
        }
      }
    });
    if (landed.length > 0) {
      faults.push(
        fault('run-longer-or-thinner', run.name, (house, draws) => {
          const factor = draws.factor(2.5, 10);
          for (const { colour } of landed) house.scaleOhms(`${run.name}.${colour}`, factor);
        }),
      );
    }
  }
  for (const jumper of analysis.jumpers.values()) {
    const ends = [pointOf(jumper.from), pointOf(jumper.to)].sort().join();
    const bypasses = [...analysis.elements.values()].some(
      ({ element, a, b }) => (element.kind === 'coil' || element.kind === 'load') && [a, b].sort().join() === ends,
    );
    const id = `jumper/${jumper.name}`;
    faults.push(
      bypasses
        ? fault('bypass-left-out', id, (house) => house.remove(id))
        : fault('joint-loose', id, (house, draws) => loosen(house, draws, id)),
    );
  }
  return faults;
}

/** Points on the line side of a supply: what feeds it is one fault, told as such. */
export function lineSide(analysis: Analysis): ReadonlySet<string> {
  const isWinding = (id: string): boolean => analysis.elements.get(id)?.element.kind === 'winding';
  const feeds = new Set(
    [...analysis.parts.values()].flatMap(({ name, kind, terminals, elements }) => [
      ...elements.flatMap(({ element, a, b }) => (element.kind === 'primary' ? [a, b] : [])),
      ...(kind === 'supply' && !elements.some(({ element }) => element.kind === 'winding')
        ? terminals.map((terminal) => `${name}.${terminal.name}`)
        : []),
    ]),
  );
  return new Set(
    analysis.circuits
      .filter(({ circuit }) => !circuit.elements.some(isWinding) && circuit.points.some((point) => feeds.has(point)))
      .flatMap(({ circuit }) => circuit.points),
  );
}

/** Swapping the two screws of a plain push, lamp or single coil, or of a winding, changes nothing. */
function isEitherScrew(analysis: Analysis, x: string, y: string): boolean {
  const [part, other] = [x, y].map((point) => point.split('.')[0]!);
  const owner = analysis.parts.get(part!);
  if (owner === undefined || part !== other || !x.includes('.')) return false;
  const between = owner.elements.filter(({ element }) => element.kind !== 'primary');
  const alone = [x, y].every((point) => analysis.landedOn(point).length === 1);
  return alone && between.every(({ a, b, system }) => [a, b].sort().join() === [x, y].sort().join() && system !== 'DC');
}
