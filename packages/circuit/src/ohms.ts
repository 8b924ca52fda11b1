/** What an ohm-meter reads. */

import { byName } from './names.js';
import { faultOf, SMALLEST_OHMS } from './validate.js';
import type { CircuitElement, Network } from './network.js';
import { Connections } from './connections.js';
import { UnionFind } from './union-find.js';

/**
 * DC ohms between two points with every source taken off and every load and open contact open; `closed` names the actuated contacts. Inductance
 * counts for nothing; a capacitor (negative reactance) is open. `null` where no path is; 0 where both points are one.
 */
export function ohmsBetween(network: Network, a: string, b: string, closed: readonly string[]): number | null {
  if (a === b) return 0;
  const actuated = new Set(closed);
  const paths = network.elements
    .filter((element) => faultOf(element) === undefined && ohmsOf(element, actuated) !== undefined)
    .sort((x, y) => byName(x.id, y.id));
  const index = new Map<string, number>();
  const numberOf = (point: string): number => {
    const known = index.get(point);
    if (known !== undefined) return known;
    index.set(point, index.size);
    return index.size - 1;
  };
  const from = numberOf(a);
  const to = numberOf(b);
  for (const path of paths) {
    numberOf(path.a);
    numberOf(path.b);
  }
  const nets = new UnionFind(index.size);
  const reached = new UnionFind(index.size);
  for (const path of paths) {
    reached.join(numberOf(path.a), numberOf(path.b));
    if (ohmsOf(path, actuated)! < SMALLEST_OHMS) nets.join(numberOf(path.a), numberOf(path.b));
  }
  if (nets.find(from) === nets.find(to)) return 0;
  if (reached.find(from) !== reached.find(to)) return null;

  const outside = new Uint8Array(index.size);
  for (let point = 0; point < index.size; point++) {
    if (nets.find(point) !== point || reached.find(point) !== reached.find(to)) outside[point] = 1;
  }
  outside[nets.find(to)] = 1;
  const connections = new Connections(index.size, outside, paths.length);
  for (const path of paths) {
    const x = nets.find(numberOf(path.a));
    const y = nets.find(numberOf(path.b));
    const ohms = ohmsOf(path, actuated)!;
    if (x !== y && reached.find(x) === reached.find(to)) connections.connect(x, y, 1 / ohms, 0);
  }
  const system = connections.system();
  if (system.factor() >= 0) return null;
  const re = new Float64Array(index.size);
  re[nets.find(from)] = 1;
  system.solve(re, new Float64Array(index.size), new Float64Array(0), new Float64Array(0));
  const ohms = re[nets.find(from)]!;
  return Number.isFinite(ohms) ? ohms : null;
}

function ohmsOf(element: CircuitElement, actuated: ReadonlySet<string>): number | undefined {
  switch (element.kind) {
    case 'short':
      return 0;
    case 'impedance':
      return element.reactance < 0 ? undefined : element.ohms;
    case 'bypass':
      return element.ohms;
    case 'contact':
      return actuated.has(element.contact) === (element.normally === 'open') ? 0 : undefined;
    default:
      return undefined;
  }
}
