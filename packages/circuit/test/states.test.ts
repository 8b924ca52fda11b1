import { describe, expect, it } from 'vitest';
import { type Circuit, type ContactLimits, ohmsBetween, prepare, statesOf } from '../src/index.js';
import { bypass, contact, dc, short, watts, wire, z } from './networks.js';

function circuit(contacts: readonly string[], hasPeak = false): Circuit {
  return { id: 'c', elements: [], points: [], contacts, sources: [], system: 'AC', hasPeak };
}

const names = (found: ReturnType<typeof statesOf>): string[] =>
  found.map(({ closed, loads }) => `${closed.join('+') || 'rest'}${loads === 'peak' ? '!' : ''}`);

describe('states', () => {
  it('are idle and each contact, and all together, fewest first', () => {
    expect(names(statesOf(circuit(['b', 'a'])))).toEqual(['rest', 'a', 'b', 'a+b']);
  });

  it('are taken at peak too where that differs', () => {
    expect(names(statesOf(circuit(['a'], true)))).toEqual(['rest', 'rest!', 'a', 'a!']);
  });

  it('are all 64 combinations of six contacts', () => {
    const found = statesOf(circuit(['a', 'b', 'c', 'd', 'e', 'f']));
    expect(found).toHaveLength(64);
    expect(found.map(({ closed }) => closed.length)).toEqual(found.map(({ closed }) => closed.length).sort());
  });

  it('keep to the limits of a record, but always take each contact alone', () => {
    const limits: ContactLimits = {
      together: [{ contacts: ['a', 'b', 'c'], most: 2 }],
      never: [['a', 'd'], ['b']],
    };
    const found = names(statesOf(circuit(['a', 'b', 'c', 'd']), limits));
    expect(found).toEqual(['rest', 'a', 'b', 'c', 'd', 'a+b', 'a+c', 'b+c', 'b+d', 'c+d', 'b+c+d']);
  });

  it('are singles, pairs and all at once above six contacts', () => {
    const seven = ['a', 'b', 'c', 'd', 'e', 'f', 'g'];
    expect(statesOf(circuit(seven))).toHaveLength(1 + 7 + 21 + 1);
    expect(statesOf(circuit(seven), { together: [{ contacts: seven, most: 2 }], never: [] })).toHaveLength(29);
  });
});

describe('circuits of a network', () => {
  it('are what shares current paths with contacts either way; a fed winding belongs to what feeds it', () => {
    const network = prepare({
      elements: [
        dc('s', 'a', 'b', 12, 1),
        contact('k', 'b', 'c'),
        watts('load', 'c', 'a', 3, 5, 8),
        z('r', 'x', 'y', 5),
        { ...dc('fed', 'u', 'v', 5, 1), fedBy: { a: 'a', b: 'b', ratio: 0.5 } },
      ],
    });
    expect(network.circuits).toMatchObject([
      {
        id: 'fed',
        elements: ['fed', 'k', 'load', 's'],
        points: ['a', 'b', 'c', 'u', 'v'],
        contacts: ['k'],
        sources: ['fed', 's'],
        system: 'DC',
        hasPeak: true,
      },
      { id: 'r', elements: ['r'], points: ['x', 'y'], contacts: [], sources: [], system: 'none', hasPeak: false },
    ]);
    expect(network.circuitOf('v')?.id).toBe('fed');
  });
});

describe('an ohm-meter', () => {
  const elements = [
    dc('s', 'a', 'b', 12, 1),
    wire('w1', 'a', 'c', 0.3),
    z('coil', 'c', 'd', 6, 20),
    contact('push', 'd', 'e'),
    contact('rest', 'c', 'h', 'push', 'closed'),
    wire('w2', 'e', 'b', 0.2),
    short('j', 'b', 'f'),
    watts('load', 'c', 'b', 3),
    z('cap', 'a', 'b', 1, -50),
    bypass('kit', 'c', 'd', 3, 0.8),
  ];

  it('reads through coils and kits but not through sources, loads and capacitors', () => {
    expect(ohmsBetween({ elements }, 'a', 'd', [])).toBeCloseTo(0.3 + 2, 12);
    expect(ohmsBetween({ elements }, 'a', 'b', [])).toBeNull();
    expect(ohmsBetween({ elements }, 'a', 'f', ['push'])).toBeCloseTo(0.3 + 2 + 0.2, 12);
  });

  it('reads nothing between points that are one, and open where no path is', () => {
    expect(ohmsBetween({ elements }, 'b', 'f', [])).toBe(0);
    expect(ohmsBetween({ elements }, 'c', 'h', [])).toBe(0);
    expect(ohmsBetween({ elements }, 'c', 'h', ['push'])).toBeNull();
    expect(ohmsBetween({ elements }, 'q', 'q', [])).toBe(0);
    expect(ohmsBetween({ elements }, 'q', 'a', [])).toBeNull();
  });

  it('reads a bridge that no series and parallel rule solves', () => {
    const bridge = [
      z('1', 'a', 'x', 1),
      z('2', 'a', 'y', 2),
      z('3', 'x', 'y', 3),
      z('4', 'x', 'b', 4),
      z('5', 'y', 'b', 5),
    ];
    // Delta to star at a: 2/6, 3/6 and 6/6 ohm.
    const star = 2 / 6 + 1 / (1 / (3 / 6 + 4) + 1 / (6 / 6 + 5));
    expect(ohmsBetween({ elements: bridge }, 'a', 'b', [])).toBeCloseTo(star, 12);
  });
});
