import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  add,
  type CircuitElement,
  type CircuitState,
  magnitude,
  prepare,
  type Solution,
  statesOf,
  subtract,
} from '../src/index.js';
import { ac, amps, dc, short, solved, volts, wire, z } from './networks.js';
import { anyNetwork, linearNetwork } from './random-networks.js';

const anything = fc.constantFrom('AC' as const, 'DC' as const).chain((system) => anyNetwork(7, system));

function everySolution(
  elements: readonly CircuitElement[],
): { readonly state: CircuitState; readonly solution: Solution }[] {
  const prepared = prepare({ elements });
  return prepared.circuits.flatMap((circuit) =>
    statesOf(circuit).map((state) => ({ state, solution: prepared.solve(circuit, state) })),
  );
}

describe('reciprocity', () => {
  it('volts put into one branch drive through another what they would drive the other way', () => {
    fc.assert(
      fc.property(linearNetwork(8, 'AC'), fc.nat(), fc.nat(), (elements, i, j) => {
        const passive = elements.filter((e) => e.kind === 'impedance');
        const one = passive[i % passive.length]!;
        const other = passive[j % passive.length]!;
        const through = (driven: typeof one, seen: typeof one) => {
          const drive = ac(driven.id, driven.a, driven.b, 10, { ohms: driven.ohms, reactance: driven.reactance });
          return solved(passive.map((e) => (e.id === driven.id ? drive : e))).element(seen.id)!.amps!;
        };
        const there = through(one, other);
        const back = through(other, one);
        expect(magnitude(subtract(there, back))).toBeLessThan(1e-9 * Math.max(1e-3, 10 / one.ohms, 10 / other.ohms));
      }),
      { numRuns: 150 },
    );
  });
});

describe('scaling', () => {
  it('of all ohms leaves the volts and divides the amps', () => {
    fc.assert(
      fc.property(linearNetwork(7, 'AC'), fc.double({ min: 0.1, max: 10, noNaN: true }), (elements, factor) => {
        const one = solved(elements);
        const scaled = solved(
          elements.map((e) =>
            e.kind === 'impedance' || e.kind === 'source'
              ? { ...e, ohms: e.ohms * factor, reactance: e.reactance * factor }
              : e,
          ),
        );
        for (const { id } of elements) {
          expect(magnitude(subtract(scaled.element(id)!.volts, one.element(id)!.volts))).toBeLessThan(2e-7);
          const there = scaled.element(id)!.amps!;
          const here = one.element(id)!.amps!;
          const apart = subtract({ re: there.re * factor, im: there.im * factor }, here);
          expect(magnitude(apart)).toBeLessThan(1e-8 * Math.max(1, magnitude(here)));
        }
      }),
      { numRuns: 100 },
    );
  });

  it('of volts and of what loads ask leaves the shares', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.2, max: 5, noNaN: true }), (factor) => {
        const bell = (by: number): Solution =>
          solved([
            ac('s', 'p', '0', 20 * by, { ohms: 6.4 }),
            wire('w', 'p', 'q', 1.3),
            { ...loadOf(8 * by * by), staysOnFrom: 10 * by },
          ]);
        expect(volts(bell(factor), 'l') / factor).toBeCloseTo(volts(bell(1), 'l'), 9);
      }),
    );
  });
});

function loadOf(va: number) {
  return {
    kind: 'power' as const,
    id: 'l',
    a: 'q',
    b: '0',
    voltAmperes: { idle: va, peak: va },
    powerFactor: 1,
    staysOnFrom: 10,
  };
}

describe('more wire', () => {
  const ohms = fc.double({ min: 0.01, max: 5, noNaN: true });

  it('never raises the volts of a passive load behind any mesh of it', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(5), fc.nat(5), ohms), { minLength: 3, maxLength: 12 }),
        fc.array(ohms, { minLength: 5, maxLength: 5 }),
        fc.nat(),
        ohms,
        (meshes, spine, which, more) => {
          const wires = [
            ...spine.map((r, i) => wire(`s${i}`, `n${i}`, `n${i + 1}`, r)),
            ...meshes.map(([a, b, r], i) => wire(`m${i}`, `n${a}`, `n${b}`, r)),
          ];
          const longer = wires.map((w, i) => (i === which % wires.length ? { ...w, ohms: w.ohms + more } : w));
          const load = (all: readonly CircuitElement[]) =>
            volts(solved([dc('tx', 'n0', '0', 16, 2), ...all, z('l', 'n5', '0', 30)]), 'l');
          expect(load(longer)).toBeLessThanOrEqual(load(wires) * (1 + 1e-12));
        },
      ),
      { numRuns: 200 },
    );
  });

  it('never raises the volts of any passive load further on along a run', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(ohms, fc.double({ min: 5, max: 200, noNaN: true })), { minLength: 2, maxLength: 6 }),
        fc.nat(),
        ohms,
        (run, which, more) => {
          const at = which % run.length;
          const along = (extra: number): Solution =>
            solved([
              dc('tx', 'n0', '0', 24, 1),
              ...run.flatMap(([r, load], i) => [
                wire(`w${i}`, `n${i}`, `n${i + 1}`, r + (i === at ? extra : 0)),
                z(`l${i}`, `n${i + 1}`, '0', load),
              ]),
            ]);
          const before = along(0);
          const after = along(more);
          for (let i = at; i < run.length; i++) {
            expect(volts(after, `l${i}`)).toBeLessThanOrEqual(volts(before, `l${i}`) * (1 + 1e-12));
          }
        },
      ),
      { numRuns: 150 },
    );
  });
});

describe('a state', () => {
  it('is the same solved after others and solved alone, to the last bit', () => {
    fc.assert(
      fc.property(anything, (elements) => {
        for (const { state, solution } of everySolution(elements)) {
          const alone = prepare({ elements });
          const circuit = alone.circuits.find(({ elements: ids }) => ids.some((id) => solution.element(id)));
          if (circuit === undefined) continue;
          const fresh = alone.solve(circuit, state);
          for (const id of circuit.elements) expect(fresh.element(id)).toEqual(solution.element(id));
        }
      }),
      { numRuns: 60 },
    );
  });

  it('is the network with made contacts as jumpers and open ones taken out', () => {
    fc.assert(
      fc.property(anything, (elements) => {
        for (const { state, solution } of everySolution(elements)) {
          const rewired = elements.flatMap((e): CircuitElement[] => {
            if (e.kind !== 'contact') return [e];
            const isMade = state.closed.includes(e.contact) === (e.normally === 'open');
            return isMade ? [{ kind: 'short', id: e.id, a: e.a, b: e.b }] : [];
          });
          const prepared = prepare({ elements: rewired });
          for (const e of elements) {
            const mine = solution.element(e.id);
            const circuit = prepared.circuits.find(({ elements: ids }) => ids.includes(e.id));
            if (mine === undefined || circuit === undefined || e.kind === 'contact') continue;
            const theirs = prepared.solve(circuit, { ...state, closed: [] });
            if (theirs.problem !== undefined) continue;
            expect(magnitude(subtract(theirs.element(e.id)!.volts, mine.volts))).toBeLessThan(1e-7);
          }
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('a jumper', () => {
  it('is what a wire comes to as its ohms go to nothing', () => {
    fc.assert(
      fc.property(linearNetwork(7, 'AC'), fc.nat(6), fc.nat(6), (elements, a, b) => {
        fc.pre(a !== b);
        const merged = solved([...elements, short('j', `n${a}`, `n${b}`)]);
        const apart = [1e-2, 1e-3, 1e-4].map((ohms) => {
          const wired = solved([...elements, wire('j', `n${a}`, `n${b}`, ohms)]);
          const differences = elements.map((e) =>
            magnitude(subtract(wired.element(e.id)!.volts, merged.element(e.id)!.volts)),
          );
          return Math.max(...differences, 1e-10);
        });
        expect(apart[1]!).toBeLessThan(apart[0]! * 0.2 + 1e-8);
        expect(apart[2]!).toBeLessThan(apart[1]! * 0.2 + 1e-8);
        const current = merged.element('j')!.amps!;
        const wired = solved([...elements, wire('j', `n${a}`, `n${b}`, 1e-4)]).element('j')!.amps!;
        expect(magnitude(subtract(current, wired))).toBeLessThan(5e-2 * Math.max(magnitude(current), 1e-3));
      }),
      { numRuns: 80 },
    );
  });
});

describe('which end is written first', () => {
  it('turns the figures of that element round and changes nothing else', () => {
    fc.assert(
      fc.property(anything, fc.infiniteStream(fc.boolean()), (elements, turns) => {
        const turned = elements.map((e) => {
          const turn = turns.next().value === true && e.kind !== 'source';
          return { turn, element: turn ? { ...e, a: e.b, b: e.a } : e };
        });
        const one = everySolution(elements);
        const two = everySolution(turned.map(({ element }) => element));
        one.forEach(({ solution }, i) => {
          const other = two[i]!.solution;
          expect(other.problem?.kind).toBe(solution.problem?.kind);
          expect(other.droppedOut).toEqual(solution.droppedOut);
          for (const { element, turn } of turned) {
            const mine = solution.element(element.id);
            const theirs = other.element(element.id);
            if (mine === undefined || theirs === undefined) continue;
            const apart = turn ? add(mine.volts, theirs.volts) : subtract(mine.volts, theirs.volts);
            expect(magnitude(apart)).toBeLessThan(1e-7);
            expect(theirs.on).toBe(mine.on);
          }
        });
      }),
      { numRuns: 100 },
    );
  });

  it('of a wire makes its amps negative', () => {
    const forward = solved([dc('s', 'p', '0', 12, 1), wire('w', 'p', 'q', 1), z('r', 'q', '0', 10)]);
    const turned = solved([dc('s', 'p', '0', 12, 1), wire('w', 'q', 'p', 1), z('r', 'q', '0', 10)]);
    expect(amps(turned, 'w')).toBeCloseTo(1, 12);
    expect(turned.element('w')!.amps!.re).toBeCloseTo(-forward.element('w')!.amps!.re, 12);
  });
});
