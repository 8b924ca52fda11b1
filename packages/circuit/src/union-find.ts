/** Disjoint sets of the whole numbers 0 .. count-1; the smallest member stands for its set, so results do not depend on the order of joins. */
export class UnionFind {
  readonly parent: Int32Array;

  constructor(count: number) {
    this.parent = new Int32Array(count);
    for (let i = 0; i < count; i++) this.parent[i] = i;
  }

  find(x: number): number {
    const parent = this.parent;
    let root = x;
    while (parent[root]! !== root) root = parent[root]!;
    let at = x;
    while (parent[at]! !== root) {
      const next = parent[at]!;
      parent[at] = root;
      at = next;
    }
    return root;
  }

  /** Joins the sets of x and y; false when they were one already. */
  join(x: number, y: number): boolean {
    const rx = this.find(x);
    const ry = this.find(y);
    if (rx === ry) return false;
    if (rx < ry) this.parent[ry] = rx;
    else this.parent[rx] = ry;
    return true;
  }
}
