/** Dense LU with partial pivoting on typed arrays, real and complex, row-major. Small systems and the part of a network that needs pivoting. */

/** A pivot smaller than this share of its row's largest entry counts as zero. */
const SINGULAR_BELOW = 1e-14;

export class ComplexLu {
  readonly re: Float64Array;
  readonly im: Float64Array;
  private readonly pivots: Int32Array;

  constructor(readonly size: number) {
    this.re = new Float64Array(size * size);
    this.im = new Float64Array(size * size);
    this.pivots = new Int32Array(size);
  }

  add(row: number, column: number, re: number, im: number): void {
    const at = row * this.size + column;
    this.re[at]! += re;
    this.im[at]! += im;
  }

  /** Factors in place; the column without a usable pivot, or -1. */
  factor(): number {
    const { size: n, re, im, pivots } = this;
    const weight = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      let largest = 0;
      for (let j = i * n; j < i * n + n; j++) largest = Math.max(largest, Math.abs(re[j]!) + Math.abs(im[j]!));
      weight[i] = largest > 0 ? 1 / largest : 0;
    }
    for (let k = 0; k < n; k++) {
      let best = k;
      let bestSize = -1;
      for (let i = k; i < n; i++) {
        const at = i * n + k;
        const size = (Math.abs(re[at]!) + Math.abs(im[at]!)) * weight[i]!;
        if (size > bestSize) {
          bestSize = size;
          best = i;
        }
      }
      if (!(bestSize > SINGULAR_BELOW)) return k;
      pivots[k] = best;
      if (best !== k) this.swapRows(k, best, weight);
      const kk = k * n + k;
      const pr = re[kk]!;
      const pi = im[kk]!;
      const square = pr * pr + pi * pi;
      const ir = pr / square;
      const ii = -pi / square;
      re[kk] = ir;
      im[kk] = ii;
      for (let i = k + 1; i < n; i++) {
        const ik = i * n + k;
        const ar = re[ik]!;
        const ai = im[ik]!;
        if (ar === 0 && ai === 0) continue;
        const fr = ar * ir - ai * ii;
        const fi = ar * ii + ai * ir;
        re[ik] = fr;
        im[ik] = fi;
        for (let j = k + 1; j < n; j++) {
          const ur = re[k * n + j]!;
          const ui = im[k * n + j]!;
          if (ur === 0 && ui === 0) continue;
          re[i * n + j]! -= fr * ur - fi * ui;
          im[i * n + j]! -= fr * ui + fi * ur;
        }
      }
    }
    return -1;
  }

  /** Overwrites the right-hand side with the answer. */
  solve(bre: Float64Array, bim: Float64Array): void {
    const { size: n, re, im, pivots } = this;
    for (let k = 0; k < n; k++) {
      const p = pivots[k]!;
      if (p === k) continue;
      const r = bre[k]!;
      const i = bim[k]!;
      bre[k] = bre[p]!;
      bim[k] = bim[p]!;
      bre[p] = r;
      bim[p] = i;
    }
    for (let i = 1; i < n; i++) {
      let sr = bre[i]!;
      let si = bim[i]!;
      for (let j = 0; j < i; j++) {
        const lr = re[i * n + j]!;
        const li = im[i * n + j]!;
        sr -= lr * bre[j]! - li * bim[j]!;
        si -= lr * bim[j]! + li * bre[j]!;
      }
      bre[i] = sr;
      bim[i] = si;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sr = bre[i]!;
      let si = bim[i]!;
      for (let j = i + 1; j < n; j++) {
        const ur = re[i * n + j]!;
        const ui = im[i * n + j]!;
        sr -= ur * bre[j]! - ui * bim[j]!;
        si -= ur * bim[j]! + ui * bre[j]!;
      }
      const dr = re[i * n + i]!;
      const di = im[i * n + i]!;
      bre[i] = sr * dr - si * di;
      bim[i] = sr * di + si * dr;
    }
  }

  private swapRows(x: number, y: number, weight: Float64Array): void {
    const { size: n, re, im } = this;
    for (let j = 0; j < n; j++) {
      const r = re[x * n + j]!;
      const i = im[x * n + j]!;
      re[x * n + j] = re[y * n + j]!;
      im[x * n + j] = im[y * n + j]!;
      re[y * n + j] = r;
      im[y * n + j] = i;
    }
    const w = weight[x]!;
    weight[x] = weight[y]!;
    weight[y] = w;
  }
}

/** Solves a real system in place: `matrix` is destroyed, `rhs` becomes the answer. Gives the sign of the determinant, 0 when singular. */
export function solveReal(matrix: Float64Array, rhs: Float64Array): -1 | 0 | 1 {
  const n = rhs.length;
  let sign: -1 | 1 = 1;
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(matrix[i * n + k]!) > Math.abs(matrix[best * n + k]!)) best = i;
    const pivot = matrix[best * n + k]!;
    if (pivot === 0 || !Number.isFinite(pivot)) return 0;
    if (pivot < 0) sign = sign === 1 ? -1 : 1;
    if (best !== k) {
      sign = sign === 1 ? -1 : 1;
      for (let j = k; j < n; j++) {
        const t = matrix[k * n + j]!;
        matrix[k * n + j] = matrix[best * n + j]!;
        matrix[best * n + j] = t;
      }
      const t = rhs[k]!;
      rhs[k] = rhs[best]!;
      rhs[best] = t;
    }
    for (let i = k + 1; i < n; i++) {
      const factor = matrix[i * n + k]! / pivot;
      if (factor === 0) continue;
      for (let j = k + 1; j < n; j++) matrix[i * n + j]! -= factor * matrix[k * n + j]!;
      rhs[i]! -= factor * rhs[k]!;
    }
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = rhs[i]!;
    for (let j = i + 1; j < n; j++) sum -= matrix[i * n + j]! * rhs[j]!;
    rhs[i] = sum / matrix[i * n + i]!;
  }
  return sign;
}
