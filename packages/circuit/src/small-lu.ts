/** Complex LU with partial pivoting for a handful of unknowns, on plain lists: for so few, typed arrays cost more than they save. */

/** Filled anew by each solution. */
const xr: number[] = [];
const xi: number[] = [];

export class SmallLu {
  /** Row by row. */
  private readonly re: number[];
  private readonly im: number[];
  private readonly order: number[];

  constructor(readonly size: number) {
    this.re = zeros(size * size);
    this.im = zeros(size * size);
    this.order = zeros(size);
    for (let row = 0; row < size; row++) this.order[row] = row;
  }

  add(row: number, column: number, re: number, im: number): void {
    const at = row * this.size + column;
    this.re[at]! += re;
    this.im[at]! += im;
  }

  /** Factors in place; the column without a usable pivot, or -1. Rows are compared by their share of their own largest entry. */
  factor(): number {
    const { size, re, im } = this;
    const weight = this.weights();
    for (let k = 0; k < size; k++) {
      let best = k;
      let bestSize = 0;
      for (let i = k; i < size; i++) {
        const share = (Math.abs(re[i * size + k]!) + Math.abs(im[i * size + k]!)) * weight[i]!;
        if (share > bestSize) {
          bestSize = share;
          best = i;
        }
      }
      if (!(bestSize > 0)) return k;
      if (best !== k) this.swapRows(k, best, weight);
      const own = k * size + k;
      const pr = re[own]!;
      const pi = im[own]!;
      const square = pr * pr + pi * pi;
      const ir = pr / square;
      const ii = -pi / square;
      re[own] = ir;
      im[own] = ii;
      for (let row = own + size; row < size * size; row += size) {
        const ar = re[row]!;
        const ai = im[row]!;
        const fr = ar * ir - ai * ii;
        const fi = ar * ii + ai * ir;
        re[row] = fr;
        im[row] = fi;
        for (let j = 1; j < size - k; j++) {
          const ur = re[own + j]!;
          const ui = im[own + j]!;
          re[row + j]! -= fr * ur - fi * ui;
          im[row + j]! -= fr * ui + fi * ur;
        }
      }
    }
    return -1;
  }

  private weights(): number[] {
    const { size, re, im } = this;
    const weight = zeros(size);
    for (let i = 0; i < size; i++) {
      let largest = 0;
      for (let at = i * size; at < (i + 1) * size; at++)
        largest = Math.max(largest, Math.abs(re[at]!) + Math.abs(im[at]!));
      weight[i] = largest > 0 ? 1 / largest : 0;
    }
    return weight;
  }

  private swapRows(x: number, y: number, weight: number[]): void {
    const { size, re, im, order } = this;
    swap(order, x, y);
    swap(weight, x, y);
    for (let j = 0; j < size; j++) {
      swap(re, x * size + j, y * size + j);
      swap(im, x * size + j, y * size + j);
    }
  }

  /** Overwrites the right-hand side with the answer. */
  solve(bre: number[], bim: number[]): void {
    const { size, re, im, order } = this;
    for (let i = 0; i < size; i++) {
      let sr = bre[order[i]!]!;
      let si = bim[order[i]!]!;
      for (let j = 0; j < i; j++) {
        const lr = re[i * size + j]!;
        const li = im[i * size + j]!;
        sr -= lr * xr[j]! - li * xi[j]!;
        si -= lr * xi[j]! + li * xr[j]!;
      }
      xr[i] = sr;
      xi[i] = si;
    }
    for (let i = size - 1; i >= 0; i--) {
      let sr = xr[i]!;
      let si = xi[i]!;
      for (let j = i + 1; j < size; j++) {
        const ur = re[i * size + j]!;
        const ui = im[i * size + j]!;
        sr -= ur * xr[j]! - ui * xi[j]!;
        si -= ur * xi[j]! + ui * xr[j]!;
      }
      const ir = re[i * size + i]!;
      const ii = im[i * size + i]!;
      xr[i] = sr * ir - si * ii;
      xi[i] = sr * ii + si * ir;
      bre[i] = xr[i]!;
      bim[i] = xi[i]!;
    }
  }
}

export function zeros(count: number): number[] {
  const list: number[] = [];
  for (let k = 0; k < count; k++) list.push(0);
  return list;
}

function swap(list: number[], x: number, y: number): void {
  const held = list[x]!;
  list[x] = list[y]!;
  list[y] = held;
}
