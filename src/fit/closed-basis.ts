/** Knots of a closed cubic spline, extended over the ends so that no index needs wrapping. */
export interface ClosedKnots {
  period: number;
  /** Knots over one period; their count is that of the control points. */
  knots: Float64Array;
  /** Knot i at index i + 3, for i from −3 to n + 3. */
  extended: Float64Array;
}

/** Returns the extended knots. */
export function closedKnots(knots: Float64Array, period: number): ClosedKnots {
  const n = knots.length;
  const extended = new Float64Array(n + 7);
  for (let i = -3; i < n + 4; i++) extended[i + 3] = knots[((i % n) + n) % n] + period * Math.floor(i / n);
  return { period, knots, extended };
}

/** Returns the last knot index k with knot k <= t; `t` lies within one period from the first knot. */
export function knotSpan(closed: ClosedKnots, t: number): number {
  const { knots } = closed;
  let low = 0;
  let high = knots.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle] <= t) low = middle;
    else high = middle;
  }
  return low;
}

/** Writes the four cubic basis functions k − 3 … k at `t` in span k into `out` from `at` on. Cox-de Boor recursion. */
export function cubicBasis(closed: ClosedKnots, k: number, t: number, out: Float64Array, at: number): void {
  const e = closed.extended;
  const t1 = e[k + 1];
  const t2 = e[k + 2];
  const t3 = e[k + 3];
  const t4 = e[k + 4];
  const t5 = e[k + 5];
  const t6 = e[k + 6];
  const inner = 1 / (t4 - t3);
  const a1 = (t4 - t) * inner;
  const b1 = (t - t3) * inner;
  const left = a1 / (t4 - t2);
  const right = b1 / (t5 - t3);
  const a2 = (t4 - t) * left;
  const b2 = (t - t2) * left + (t5 - t) * right;
  const c2 = (t - t3) * right;
  const p = a2 / (t4 - t1);
  const q = b2 / (t5 - t2);
  const r = c2 / (t6 - t3);
  out[at] = (t4 - t) * p;
  out[at + 1] = (t - t1) * p + (t5 - t) * q;
  out[at + 2] = (t - t2) * q + (t6 - t) * r;
  out[at + 3] = (t - t3) * r;
}

/** Writes the third derivatives (constant in the span) of the four basis functions of span k into `out`. */
export function cubicThird(closed: ClosedKnots, k: number, out: Float64Array): void {
  const e = closed.extended;
  for (let j = 0; j < 4; j++) {
    let d0 = j === 0 ? 1 : 0;
    let d1 = j === 1 ? 1 : 0;
    let d2 = j === 2 ? 1 : 0;
    let d3 = j === 3 ? 1 : 0;
    d3 = (3 * (d3 - d2)) / (e[k + 6] - e[k + 3]);
    d2 = (3 * (d2 - d1)) / (e[k + 5] - e[k + 2]);
    d1 = (3 * (d1 - d0)) / (e[k + 4] - e[k + 1]);
    d3 = (2 * (d3 - d2)) / (e[k + 5] - e[k + 3]);
    d2 = (2 * (d2 - d1)) / (e[k + 4] - e[k + 2]);
    d0 = (d3 - d2) / (e[k + 4] - e[k + 3]);
    out[j] = d0;
  }
}

/** Writes the first and the second derivatives of the four basis functions at `t` in span k into `out`, eight values. */
export function cubicDerivatives(closed: ClosedKnots, k: number, t: number, out: Float64Array): void {
  const e = closed.extended;
  const inner = 1 / (e[k + 4] - e[k + 3]);
  const left = ((e[k + 4] - t) * inner) / (e[k + 4] - e[k + 2]);
  const right = ((t - e[k + 3]) * inner) / (e[k + 5] - e[k + 3]);
  const spans = [e[k + 4] - e[k + 1], e[k + 5] - e[k + 2], e[k + 6] - e[k + 3]];
  const quadratic = [(e[k + 4] - t) * left, (t - e[k + 2]) * left + (e[k + 5] - t) * right, (t - e[k + 3]) * right];
  const slope = [-2 * left, 2 * (left - right), 2 * right];
  for (let j = 0; j < 4; j++) {
    out[j] = 3 * ((j > 0 ? quadratic[j - 1] / spans[j - 1] : 0) - (j < 3 ? quadratic[j] / spans[j] : 0));
    out[4 + j] = 3 * ((j > 0 ? slope[j - 1] / spans[j - 1] : 0) - (j < 3 ? slope[j] / spans[j] : 0));
  }
}
