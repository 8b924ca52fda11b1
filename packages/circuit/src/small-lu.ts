/** Complex LU with partial pivoting for a handful of unknowns, on plain lists: for so few, typed arrays cost more than they save. */

export class SmallLu {
  private readonly re: number[][] = [];
  private readonly im: number[][] = [];
  private readonly order: number[] = [];

  constructor(readonly size: number) {
    for (let row = 0; row < size; row++) {
      this.re.push(new Array<number>(size).fill(0));
      this.im.push(new Array<number>(size).fill(0));
      this.order.push(row);
    }
  }

  add(row: number, column: number, re: number, im: number): void {
    this.re[row]![column]! += re;
    this.im[row]![column]! += im;
  }

  /** Factors in place; the column without a usable pivot, or -1. Rows are compared by their share of their own largest entry. */
  factor(): number {
    const { size, re, im, order } = this;
    const weight = re.map((row, i) => {
      let largest = 0;
      for (let j = 0; j < size; j++) largest = Math.max(largest, Math.abs(row[j]!) + Math.abs(im[i]![j]!));
      return largest > 0 ? 1 / largest : 0;
    });
    for (let k = 0; k < size; k++) {
      let best = k;
      let bestSize = 0;
      for (let i = k; i < size; i++) {
        const share = (Math.abs(re[i]![k]!) + Math.abs(im[i]![k]!)) * weight[i]!;
        if (share > bestSize) {
          bestSize = share;
          best = i;
        }
      }
      if (!(bestSize > 0)) return k;
      if (best !== k) for (const list of [re, im, order, weight] as unknown[][]) swap(list, k, best);
      const [pr, pi] = [re[k]![k]!, im[k]![k]!];
      const square = pr * pr + pi * pi;
      re[k]![k] = pr / square;
      im[k]![k] = -pi / square;
      for (let i = k + 1; i < size; i++) {
        const [ar, ai] = [re[i]![k]!, im[i]![k]!];
        const fr = ar * re[k]![k]! - ai * im[k]![k]!;
        const fi = ar * im[k]![k]! + ai * re[k]![k]!;
        re[i]![k] = fr;
        im[i]![k] = fi;
        for (let j = k + 1; j < size; j++) {
          re[i]![j]! -= fr * re[k]![j]! - fi * im[k]![j]!;
          im[i]![j]! -= fr * im[k]![j]! + fi * re[k]![j]!;
        }
      }
    }
    return -1;
  }

  /** Overwrites the right-hand side with the answer. */
  solve(bre: number[], bim: number[]): void {
    const { size, re, im, order } = this;
    const xr = order.map((row) => bre[row]!);
    const xi = order.map((row) => bim[row]!);
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < i; j++) {
        const [lr, li] = [re[i]![j]!, im[i]![j]!];
        xr[i]! -= lr * xr[j]! - li * xi[j]!;
        xi[i]! -= lr * xi[j]! + li * xr[j]!;
      }
    }
    for (let i = size - 1; i >= 0; i--) {
      for (let j = i + 1; j < size; j++) {
        const [ur, ui] = [re[i]![j]!, im[i]![j]!];
        xr[i]! -= ur * xr[j]! - ui * xi[j]!;
        xi[i]! -= ur * xi[j]! + ui * xr[j]!;
      }
      const [sr, si] = [xr[i]!, xi[i]!];
      bre[i] = sr * re[i]![i]! - si * im[i]![i]!;
      bim[i] = sr * im[i]![i]! + si * re[i]![i]!;
      xr[i] = bre[i]!;
      xi[i] = bim[i]!;
    }
  }
}

function swap(list: unknown[], x: number, y: number): void {
  const held = list[x];
  list[x] = list[y];
  list[y] = held;
}
