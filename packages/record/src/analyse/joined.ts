/** Points that are joined, one way or another: union-find by name. */
export class Joined {
  readonly #above = new Map<string, string>();

  /** One point that stands for all that `point` is joined to. */
  of(point: string): string {
    let top = point;
    for (let above = this.#above.get(top); above !== undefined; above = this.#above.get(top)) top = above;
    for (let at = point; at !== top; ) {
      const above = this.#above.get(at) ?? top;
      this.#above.set(at, top);
      at = above;
    }
    return top;
  }

  join(a: string, b: string): void {
    const [first, second] = [this.of(a), this.of(b)].sort() as [string, string];
    if (first !== second) this.#above.set(second, first);
  }
}
