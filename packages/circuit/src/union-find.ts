/** Disjoint sets of the whole numbers 0 .. count-1; the smallest member stands for its set, so results do not depend on the order of joins. */
export class UnionFind {
  readonly parent: Int32Array;

  constructor(count: number) {
    this.parent = new Int32Array(count);
    for (let i = 0; i < count; i++) this.parent[i] = i;
  }

  find(x: number): number {
    const parent = this.parent;
    let at = x;
    for (let above = parent[at]!; above !== at; above = parent[at]!) {
      const next = parent[above]!;
      parent[at] = next;
      at = next;
    }
    return at;
  }

  /** Per member: the smallest of its set, in the column that the sets are kept in. */
  flatten(): Int32Array {
    const { parent } = this;
    for (let i = 0; i < parent.length; i++) parent[i] = parent[parent[i]!]!;
    return parent;
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
