import type { Outline } from '../model/outline.ts';

/** The outline as one polynomial a span, in powers of the distance from the span's start. */
export interface OutlinePieces {
  degree: number;
  /** Distinct knots over one period and the end of the period: spans + 1 values. */
  breaks: Float64Array;
  /** Coefficients of x, then of y, rising powers: 2 (degree + 1) values a span. */
  coefficients: Float64Array;
}

const cache = new WeakMap<Outline, OutlinePieces>();

/**
 * Returns the polynomial pieces of an outline; made once and kept while the outline lives. An outline is taken to be
 * unchanging. Derivative control points by differences, then de Boor's scheme at each span start.
 * @param outline closed B-spline (mm)
 */
export function outlinePieces(outline: Outline): OutlinePieces {
  let pieces = cache.get(outline);
  if (!pieces) {
    pieces = makePieces(outline);
    cache.set(outline, pieces);
  }
  return pieces;
}

function makePieces(outline: Outline): OutlinePieces {
  const { degree, period, knots, controlX, controlY } = outline;
  const n = knots.length;
  const knot = (i: number) => knots[((i % n) + n) % n] + period * Math.floor(i / n);
  const spans: number[] = [];
  for (let k = 0; k < n; k++) if (knot(k + 1) > knot(k)) spans.push(k);
  const breaks = new Float64Array(spans.length + 1);
  const width = degree + 1;
  const coefficients = new Float64Array(spans.length * 2 * width);
  const local = new Float64Array(width);
  const scheme = new Float64Array(width);
  spans.forEach((k, s) => {
    breaks[s] = knot(k);
    for (let axis = 0; axis < 2; axis++) {
      const control = axis === 0 ? controlX : controlY;
      for (let j = 0; j <= degree; j++) local[j] = control[(((k - degree + j) % n) + n) % n];
      let factorial = 1;
      for (let order = 0; order <= degree; order++) {
        if (order > 0) differentiate(local, order, degree, k, knot);
        scheme.set(local);
        coefficients[(2 * s + axis) * width + order] = deBoor(scheme, order, degree, k, knot) / factorial;
        factorial *= order + 1;
      }
    }
  });
  breaks[spans.length] = breaks[0] + period;
  return { degree, breaks, coefficients };
}

/** Turns the control points of derivative `order − 1` (from index `order − 1`) into those of `order`, in place. */
function differentiate(local: Float64Array, order: number, degree: number, k: number, knot: (i: number) => number) {
  const p = degree - order + 1;
  for (let j = degree; j >= order; j--) {
    const i = k - degree + j;
    local[j] = (p * (local[j] - local[j - 1])) / (knot(i + p) - knot(i));
  }
}

function deBoor(d: Float64Array, order: number, degree: number, k: number, knot: (i: number) => number): number {
  const t = knot(k);
  const p = degree - order;
  for (let r = 1; r <= p; r++) {
    for (let j = degree; j >= order + r; j--) {
      const i = k - degree + j;
      const a = (t - knot(i)) / (knot(i + p - r + 1) - knot(i));
      d[j] = (1 - a) * d[j - 1] + a * d[j];
    }
  }
  return d[degree];
}

/** Returns the span whose half-open interval holds `t`; `t` already lies within the breaks. */
export function spanAt(breaks: Float64Array, t: number): number {
  let low = 0;
  let high = breaks.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (breaks[middle] <= t) low = middle;
    else high = middle;
  }
  return low;
}

/** Writes position and the first three derivatives, [x, y, x', y', x'', y'', x''', y'''], at `h` past a span's start. */
export function evaluatePiece(pieces: OutlinePieces, span: number, h: number, out: Float64Array): void {
  const { degree, coefficients } = pieces;
  const base = span * 2 * (degree + 1);
  if (degree === 3) {
    for (let axis = 0; axis < 2; axis++) {
      const at = base + 4 * axis;
      const b = coefficients[at + 1];
      const c = coefficients[at + 2];
      const d = coefficients[at + 3];
      out[axis] = coefficients[at] + h * (b + h * (c + h * d));
      out[2 + axis] = b + h * (2 * c + 3 * h * d);
      out[4 + axis] = 2 * c + 6 * h * d;
      out[6 + axis] = 6 * d;
    }
    return;
  }
  for (let axis = 0; axis < 2; axis++) {
    const at = base + axis * (degree + 1);
    let p0 = 0;
    let p1 = 0;
    let p2 = 0;
    let p3 = 0;
    for (let j = degree; j >= 0; j--) {
      p3 = p3 * h + p2;
      p2 = p2 * h + p1;
      p1 = p1 * h + p0;
      p0 = p0 * h + coefficients[at + j];
    }
    out[axis] = p0;
    out[2 + axis] = p1;
    out[4 + axis] = 2 * p2;
    out[6 + axis] = 6 * p3;
  }
}
