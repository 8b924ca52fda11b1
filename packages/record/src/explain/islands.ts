/** A house taken apart into what nothing joins, not even a fault that is thought of: each is solved by itself. */

import { UnionFind } from '@ohmstead/circuit';
import type { House } from './house.js';

export interface Island {
  readonly index: number;
  /** Of the house. */
  readonly nodes: readonly number[];
  readonly branches: readonly number[];
  readonly contacts: readonly number[];
  readonly loads: readonly number[];
  readonly bypasses: readonly number[];
  readonly diodes: readonly number[];
  /** Names of its contacts, and of those whose wires can be held together. */
  readonly pressable: ReadonlySet<string>;
  readonly bridgeable: ReadonlySet<string>;
}

export class Islands {
  readonly list: readonly Island[];
  /** Per node and per branch of the house: its island. */
  readonly ofNode: Int32Array;
  readonly ofBranch: Int32Array;
  /** Per node and per branch: its number within its island. */
  readonly localNode: Int32Array;
  readonly localBranch: Int32Array;

  constructor(house: House) {
    const { branches } = house;
    const sets = new UnionFind(house.nodes.length);
    for (const { a, b } of branches) sets.join(a, b);
    const islands = new Map<number, { nodes: number[]; branches: number[]; index: number }>();
    this.ofNode = new Int32Array(house.nodes.length);
    this.localNode = new Int32Array(house.nodes.length);
    for (let node = 0; node < house.nodes.length; node++) {
      const root = sets.find(node);
      const island = islands.get(root) ?? { nodes: [], branches: [], index: islands.size };
      islands.set(root, island);
      this.ofNode[node] = island.index;
      this.localNode[node] = island.nodes.push(node) - 1;
    }
    const list = [...islands.values()];
    this.ofBranch = Int32Array.from(branches, ({ a }) => this.ofNode[a]!);
    this.localBranch = Int32Array.from(
      branches,
      (_, branch) => list[this.ofBranch[branch]!]!.branches.push(branch) - 1,
    );
    const bridged = new Map([...house.bridges].map(([name, branch]) => [branch, name]));
    this.list = list.map(({ nodes, branches: own, index }): Island => {
      const of = (kind: string): readonly number[] => own.filter((branch) => branches[branch]!.kind === kind);
      const contacts = of('contact');
      return {
        index,
        nodes,
        branches: own,
        contacts,
        loads: of('load'),
        bypasses: of('bypass'),
        diodes: of('diode'),
        pressable: new Set(contacts.map((branch) => branches[branch]!.contact!.name)),
        bridgeable: new Set(own.flatMap((branch) => bridged.get(branch) ?? [])),
      };
    });
  }
}
